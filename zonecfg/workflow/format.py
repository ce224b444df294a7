"""Sections and fields in the order the format lists them; ids, lists, comments and values stay as they are."""

from collections.abc import Sequence
from pathlib import Path

from zonecfg.compare.patch import json_equal
from zonecfg.document.arrange import arranged
from zonecfg.document.reader import Document, read
from zonecfg.errors import CannotWrite
from zonecfg.model.grammar import grammar
from zonecfg.workflow.load import shape_findings
from zonecfg.workflow.paths import PlanFile
from zonecfg.workflow.rewriting import refuse_faults, rewrite_all


def format_files(paths: Sequence[Path], *, check: bool = False) -> tuple[list[str], int]:
    """Write files in canonical order.

    Parameters
    ----------
    paths
        Site files and catalogues, or folders that hold them.
    check
        Write nothing.

    Returns
    -------
    list of str
        Names of the files that changed, or with ``check`` would.
    int
        How many files were looked at.

    Raises
    ------
    CannotRead, UnreadableSite
        A path cannot be opened, or a file has faults of reading; then none was written.
    CannotWrite
        A file cannot be written, or cannot be put in order without touching what it says.
    """
    return rewrite_all(paths, formatted, write=not check)


def formatted(document: Document, found: PlanFile) -> str:
    """Give a file's text in canonical order.

    Raises
    ------
    UnreadableSite, CannotWrite
        The file has faults of reading, or cannot be put in order.
    """
    kind = "catalogue" if found.catalogue else "site"
    refuse_faults(document, () if document.data is None else shape_findings(document, kind))
    text = arranged(document, grammar().keys_at)
    if not json_equal(read(text.encode(), document.file, grammar().as_written).data, document.data):
        raise CannotWrite(f"{document.file}: its keys cannot be put in order without touching their values")
    return text
