"""Two readings of one text with the lines that differ between git's conflict markers."""

import re
from collections.abc import Iterable, Iterator

from zonecfg.document.chunks import line_end, line_start
from zonecfg.document.text import BREAK
from zonecfg.document.writer import Edit, applied

_MARKER = re.compile(r"([<=>|])\1{6,}(?: [^\r\n]*)?$")


def readings(text: str) -> tuple[str, str] | None:
    """Give what a text with conflict markers says with ours chosen, and with theirs; nothing where there are none."""
    ours, theirs, side = [], [], ""
    found = False
    for line in text.splitlines(keepends=True):
        sign = match[1] if (match := _MARKER.match(line.rstrip("\r\n"))) else ""
        if sign == "<" and not side:
            side, found = "<", True
        elif sign and side and "<|=>".index(sign) > "<|=".index(side):
            side = "" if sign == ">" else sign
        else:
            ours += [line] if side in ("", "<") else []
            theirs += [line] if side in ("", "=") else []
    return ("".join(ours), "".join(theirs)) if found and not side else None


def marked(text: str, edits: Iterable[Edit], size: int, labels: tuple[str, str] = ("ours", "theirs")) -> str:
    """Put both readings of the lines that edits touch into a text.

    Parameters
    ----------
    text
        How ours has it.
    edits
        What makes it theirs, in the order of the text.
    size
        How many signs a marker has.
    labels
        What the two sides are called.

    Returns
    -------
    str
        The text; with all lines of ours chosen it is the same as before, with all of theirs as after the edits.
    """
    found = BREAK.search(text)
    newline = found[0] if found else "\n"
    parts, done = [], 0
    for start, end, inside in _hunks(text, edits):
        moved = [Edit(edit.start - start, edit.end - start, edit.text) for edit in inside]
        ours, theirs = text[start:end], applied(text[start:end], moved, "")
        parts += [text[done:start], "" if not start or text[start - 1] in "\r\n" else newline]
        parts += [f"{'<' * size} {labels[0]}{newline}", _ended(ours, newline), f"{'=' * size}{newline}"]
        parts += [_ended(theirs, newline), f"{'>' * size} {labels[1]}{newline}"]
        done = end
    return "".join([*parts, text[done:]])


def _hunks(text: str, edits: Iterable[Edit]) -> Iterator[tuple[int, int, list[Edit]]]:
    """Widen edits to whole lines, those that meet taken together."""
    hunk: tuple[int, int, list[Edit]] | None = None
    for edit in edits:
        start = line_start(text, edit.start)
        whole = start == edit.start and (edit.end == edit.start or edit.end == line_start(text, edit.end))
        end = edit.end if whole else line_end(text, edit.end) if edit.end < len(text) else len(text)
        if not whole and edit.end == line_start(text, edit.end) and edit.end > start:
            end = edit.end
        if hunk and start <= hunk[1]:
            hunk = (hunk[0], max(hunk[1], end), [*hunk[2], edit])
            continue
        if hunk:
            yield hunk
        hunk = (start, end, [edit])
    if hunk:
        yield hunk


def _ended(lines: str, newline: str) -> str:
    return lines if not lines or lines.endswith(("\n", "\r")) else lines + newline
