"""Files of an older format brought to the one this zonecfg reads, a step a version; comments stay."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Any

from zonecfg.document.reader import Document, read
from zonecfg.errors import UnreadableSite
from zonecfg.model.grammar import grammar
from zonecfg.model.plan import CATALOGUE_FORMAT, SITE_FORMAT
from zonecfg.workflow.paths import PlanFile
from zonecfg.workflow.rewriting import refuse_faults, rewrite_all

Step = Callable[[Document], str]
"""One version further: the text of a document of one format made into the text of the next.

``zonecfg.document.rewrite`` sets values and gives keys another name by place, so that comments stay.
"""

STEPS: Mapping[str, Step] = MappingProxyType({})
"""The format a step starts from, such as ``zonecfg-site/1``. There is no older one yet."""


def migrate(paths: Sequence[Path], steps: Mapping[str, Step] = STEPS) -> tuple[list[str], int]:
    """Bring files to the present format.

    Parameters
    ----------
    paths
        Site files and catalogues, or folders that hold them.
    steps
        The steps there are.

    Returns
    -------
    list of str
        Names of the files that changed.
    int
        How many files were looked at.

    Raises
    ------
    CannotRead, UnreadableSite
        A path cannot be opened, a file has faults of reading, or its format is one that this zonecfg does not know;
        then none was written.
    CannotWrite
        A file cannot be written, or cannot be changed by place.
    """

    def make(document: Document, found: PlanFile) -> str:
        return migrated(document, CATALOGUE_FORMAT if found.catalogue else SITE_FORMAT, steps)

    return rewrite_all(paths, make)


def migrated(document: Document, target: str, steps: Mapping[str, Step] = STEPS) -> str:
    """Give the text of a document in the present format; the same text where it is there already.

    Raises
    ------
    UnreadableSite
        It has faults of reading, or no chain of steps leads from its format to the present one.
    """
    passed: list[str] = []
    while True:
        refuse_faults(document)
        stands = _format(document.data)
        if stands == target:
            return document.places.text.decode()
        if stands not in steps or stands in passed:
            place = document.places.of("/format")
            raise UnreadableSite(
                f"{document.file}:{place.line if place else 1}: {_what(stands)}; this zonecfg reads {target}"
                f"{_older(steps)}"
            )
        passed.append(stands)
        document = read(steps[stands](document).encode(), document.file, grammar().as_written)


def _format(data: Any) -> str:
    stands = data.get("format") if isinstance(data, dict) else None
    return stands if isinstance(stands, str) else ""


def _what(stands: str) -> str:
    return f"its format is {stands}" if stands else "it does not say its format"


def _older(steps: Mapping[str, Step]) -> str:
    return f" and older ones from {', '.join(sorted(steps))}" if steps else ""
