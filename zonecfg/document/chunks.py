"""The entries of a block mapping or list as stretches of whole lines, each with the comments that belong to it."""

from collections.abc import Iterator
from typing import NamedTuple

from zonecfg.document.nodes import TextNode
from zonecfg.document.text import BREAK


class Chunk(NamedTuple):
    """One entry: places in the text.

    What stands between two entries belongs to the later one, but for comments that are indented deeper than both:
    those belong to the earlier one.
    """

    lead: int
    """Where the blank lines and comments above it begin."""
    start: int
    """Where its own first line begins; behind the dash for the first entry of an item of a list."""
    end: int
    """The first place behind its last line."""


def chunks(text: str, node: TextNode, begin: int, end: int) -> list[Chunk]:
    """Give the entries of a block mapping or list in the order of the text.

    Parameters
    ----------
    text, node
        The document, and a mapping or list in block style with something in it.
    begin, end
        The stretch that holds it and the comments around it.
    """
    heads = heads_of(node)
    starts = [label.start if node.items is not None else value.start for label, value in heads]
    column = column_of(text, node.start)
    found: list[Chunk] = []
    lead = begin
    for index, (label, value) in enumerate(heads):
        own = _own_start(text, lead, starts[index])
        last = label.end if value.empty and node.items is not None else value.last_end()
        limit = starts[index + 1] if index + 1 < len(heads) else end
        behind = min(_behind_deeper(text, line_end(text, last), limit, column), end)
        found.append(Chunk(lead, own, behind))
        lead = behind
    return found


def behind_marker(text: str, root: TextNode) -> int:
    """Where a document begins: behind the line of its marker, three dashes, where it has one."""
    return next((end for start, end in line_spans(text, 0, root.start) if text.startswith("---", start)), 0)


def heads_of(node: TextNode) -> list[tuple[TextNode, TextNode]]:
    """Give each entry's key and value; an item of a list is its own key."""
    if node.items is not None:
        return list(node.items.values())
    return [(member, member) for member in node.members or ()]


def line_spans(text: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """Give the stretch of each line between two places, line ends included."""
    while start < end:
        found = BREAK.search(text, start, end)
        behind = found.end() if found else end
        yield start, behind
        start = behind


def line_start(text: str, place: int) -> int:
    """Give where the line of a place begins."""
    start = text.rfind("\n", 0, place) + 1
    return text.rfind("\r", start, place) + 1 or start


def line_end(text: str, place: int) -> int:
    """Give the first place behind the line that something ends on; a block of text ends on the line below."""
    if place and text[place - 1] in "\r\n":
        return place
    found = BREAK.search(text, place)
    return found.end() if found else len(text)


def column_of(text: str, place: int) -> int:
    """Give how many signs stand before a place on its line."""
    return place - line_start(text, place)


def is_comment(line: str) -> bool:
    """Whether a line holds a comment and nothing else."""
    return line.lstrip(" \t").startswith("#")


def _own_start(text: str, begin: int, place: int) -> int:
    """First line of an entry: the first that is neither blank nor a comment, unless it shares a line with a dash."""
    if column_of(text, begin) and not text[line_start(text, begin) : begin].isspace():
        return place  # behind a dash, in the middle of a line
    own = max(line_start(text, place), begin)
    for start, end in line_spans(text, begin, own):
        line = text[start:end]
        if line.strip() and not is_comment(line):
            return start
    return own


def _behind_deeper(text: str, begin: int, limit: int, column: int) -> int:
    """Go past the comments that are indented deeper than the entries themselves."""
    behind = begin
    for start, end in line_spans(text, begin, limit):
        line = text[start:end]
        if not line.strip():
            continue
        if not is_comment(line) or len(line) - len(line.lstrip(" ")) <= column:
            break
        behind = end
    return behind
