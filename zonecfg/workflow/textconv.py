"""A file as lines, one a fact, so that git can show what differs in meaning."""

import codecs
from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher
from hashlib import sha256
from pathlib import Path

from zonecfg.compare.facts import facts
from zonecfg.document.limits import MAX_BYTES
from zonecfg.document.markers import readings
from zonecfg.document.reader import Document, read
from zonecfg.model.grammar import grammar
from zonecfg.results.signs import printable
from zonecfg.workflow.load import content


def textconv(path: Path) -> str:
    """Write out what a file says; what cannot be read comes as its own text, the reason in the first line.

    Parameters
    ----------
    path
        Any file, also one that git laid out under a name of its own.

    Returns
    -------
    str
        The same text for equal data whatever its order, style and comments; another text for other data. A file with
        conflict markers is told with both its readings.

    Raises
    ------
    CannotRead
        The file cannot be opened.
    """
    raw = content(path)
    if len(raw) > MAX_BYTES:
        return f"# more than the {MAX_BYTES:,} bytes that a plan may have; not shown; sha256 {_sum(path)}\n"
    document = read(raw, path.name, grammar().as_written)
    if (because := _no_plan(document)) is None:
        return _lines(facts(document.data))
    text = raw.removeprefix(codecs.BOM_UTF8).decode("utf-8", "backslashreplace")
    sides = [read(side.encode(), path.name, grammar().as_written) for side in readings(text) or ()]
    if sides and not any(map(_no_plan, sides)):
        return _lines(_in_dispute(*(facts(side.data) for side in sides)))
    return _lines([f"# {because}; its text", *text.splitlines()])


def _no_plan(document: Document) -> str | None:
    """Why a document cannot be told as facts."""
    fault = next((fault for fault in document.faults if fault.severity == "error"), None)
    if fault is not None:
        return f"not readable, line {fault.line or 1}: {fault.message}"
    stands = document.data.get("format") if isinstance(document.data, dict) else None
    return None if str(stands).startswith("zonecfg-") else "no site file or catalogue"


def _in_dispute(ours: list[str], theirs: list[str]) -> Iterator[str]:
    """Put two readings of a file with conflicts together, what differs between markers."""
    place, other = 0, 0
    for here, there, size in SequenceMatcher(None, ours, theirs, autojunk=False).get_matching_blocks():
        if here > place or there > other:
            yield from ["<<<<<<< ours", *ours[place:here], "=======", *theirs[other:there], ">>>>>>> theirs"]
        yield from ours[here : here + size]
        place, other = here + size, there + size


def _lines(lines: Iterable[str]) -> str:
    return "".join(f"{printable(line)}\n" for line in lines)


def _sum(path: Path) -> str:
    whole = sha256()
    with path.open("rb") as file:
        while piece := file.read(1 << 20):
            whole.update(piece)
    return whole.hexdigest()
