"""Files rewritten in place: all are read and made anew first, and only then written, each whole."""

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from zonecfg.document.reader import Document, read
from zonecfg.errors import CannotWrite, UnreadableSite
from zonecfg.model.grammar import grammar
from zonecfg.results.finding import Finding
from zonecfg.results.words import counted
from zonecfg.workflow.load import content
from zonecfg.workflow.paths import PlanFile, base_of, find
from zonecfg.workflow.write import write_bytes

Make = Callable[[Document, PlanFile], str]
"""The new text of a file; raises where it cannot be made."""


def rewrite_all(paths: Sequence[Path], make: Make, *, write: bool = True) -> tuple[list[str], int]:
    """Rewrite every site file and catalogue that paths mean.

    Parameters
    ----------
    paths
        Files, or folders that hold them.
    make
        Gives the new text.
    write
        False where it shall only be told what would change.

    Returns
    -------
    list of str
        Names of the files that changed, or would.
    int
        How many files were looked at.

    Raises
    ------
    CannotRead
        A path cannot be opened or holds no site file.
    CannotWrite
        A file cannot be written, or somebody else changed it meanwhile.
    """
    base = base_of(paths)
    found = {item.path.resolve(): item for path in paths for item in find(path, base)}
    changed = []
    for path, item in found.items():
        raw = content(path)
        text = make(read(raw, item.shown, grammar().as_written), item)
        if text.encode() != raw:
            changed.append((path, item.shown, raw, text))
    for path, shown, raw, text in changed if write else ():
        write_bytes(path, text.encode(), force=True, before=_unless_changed(path, shown, raw))
    return [shown for _, shown, _, _ in changed], len(found)


def refuse_faults(document: Document, more: Iterable[Finding] = ()) -> None:
    """Refuse a file that cannot be rewritten, since it is not known what it says.

    Raises
    ------
    UnreadableSite
        It has faults of reading; the message names the first.
    """
    faults = [fault for fault in (*document.faults, *more) if fault.severity == "error"]
    if faults:
        rest = f" (and {counted(len(faults) - 1, 'more fault')})" if len(faults) > 1 else ""
        raise UnreadableSite(f"{document.file}:{faults[0].line or 1}: {faults[0].message}{rest}; check tells all")


def _unless_changed(path: Path, shown: str, raw: bytes) -> Callable[[bytes], None]:
    def look(_: bytes) -> None:
        if path.read_bytes() != raw:
            raise CannotWrite(f"{shown} was changed by somebody else meanwhile; run it again")

    return look
