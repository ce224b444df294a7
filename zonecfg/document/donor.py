"""A text that another one takes new things from, as they are written there, with the comments above them."""

from collections.abc import Callable, Hashable, Iterable, Iterator
from functools import cached_property
from typing import Any

from zonecfg.document.chunks import Chunk, behind_marker, chunks, column_of, heads_of, is_comment, line_end, line_spans
from zonecfg.document.nodes import TextNode, nodes
from zonecfg.document.reader import Document

Identity = Callable[[Any], Hashable]
"""What an item of a list is known by, so that its fields can be changed where it stands."""


class Donor:
    """A text that new things are taken from as they are written there, with the comments above them."""

    def __init__(self, text: str, node: TextNode, data: Any, begin: int, end: int) -> None:
        self.text = text
        self.node = node
        self.data = data
        self.begin = begin
        self.end = end

    @classmethod
    def of(cls, document: Document) -> "Donor":
        """Make one of a whole document."""
        text = document.places.text.decode("utf-8-sig")
        root = nodes(text)
        return cls(text, root, document.data, behind_marker(text, root), len(text))

    @cached_property
    def stretches(self) -> list[Chunk]:
        """Where the entries of a block stand."""
        return chunks(self.text, self.node, self.begin, self.end)

    @cached_property
    def _index(self) -> dict[Any, int]:
        names: Iterable[Any] = self.node.items if self.node.items is not None else range(len(self.node.members or ()))
        return {name: index for index, name in enumerate(names)}

    def within(self, key: str | int) -> "Donor":
        """Give what stands under a key, or the number of an item."""
        index = self._index[key]
        label, value = heads_of(self.node)[index]
        return Donor(self.text, value, self.data[key], *inner(self.text, self.node, label, value, self._end_of(index)))

    def _end_of(self, index: int) -> int:
        return 0 if self.node.flow else self.stretches[index].end


def inner(text: str, holder: TextNode, label: TextNode, value: TextNode, end: int) -> tuple[int, int]:
    """Give the stretch that holds a value of a block's entry with its comments; ``end`` is where the entry ends."""
    if holder.flow or value.flow or not (value.items or value.members):
        return value.start, value.end
    return (value.start if label is value else line_end(text, label.end)), end


def numbered(items: list[Any], identity: Identity) -> list[Hashable]:
    """Name the items of a list, each by what it is and how often that came before."""
    seen: dict[Hashable, int] = {}
    names: list[Hashable] = []
    for item in items:
        name = identity(item)
        seen[name] = seen.get(name, 0) + 1
        names.append((name, seen[name]))
    return names


def what_it_holds(donor: Donor | None, identity: Identity) -> dict[Any, Any]:
    """Give what a donor holds: a key to itself, the name of an item to its number."""
    if donor is None:
        return {}
    if isinstance(donor.data, dict):
        return {key: key for key in donor.data}
    if isinstance(donor.data, list):
        return {name: number for number, name in enumerate(numbered(donor.data, identity))}
    return {}


def entry_of(donor: Donor, index: int) -> tuple[str, list[str]]:
    """Give an entry of a block from its own first line, not indented, and the comment lines right above it."""
    chunk = donor.stretches[index]
    column = column_of(donor.text, donor.node.start)
    body = [donor.text[a:b] for a, b in line_spans(donor.text, chunk.start, chunk.end)]
    if column_of(donor.text, chunk.start):
        body[0] = " " * column + body[0]
    above: list[str] = []
    for start, end in reversed(list(line_spans(donor.text, chunk.lead, chunk.start))):
        if not is_comment(donor.text[start:end]):
            if column == 0:  # sections stand apart
                above.append("")
            break
        above.append(donor.text[start:end].strip())
    shifted = [line[column:] if not line[:column].strip() else line.lstrip(" ") for line in body]
    text = "".join(shifted)
    return text if text.endswith(("\n", "\r")) else text + "\n", above[::-1]


def shifted(body: list[str], column: int, newline: str) -> Iterator[str]:
    """Indent lines so that the least indented one that is no comment begins at a column."""
    own = [len(line) - len(line.lstrip(" ")) for line in body if line.strip() and not is_comment(line)]
    by = column - min(own, default=0)
    for line in body:
        bare = line.rstrip("\r\n")
        if not bare.strip():
            yield newline
        elif by >= 0:
            yield " " * by + bare + newline
        else:
            yield bare[min(-by, len(bare) - len(bare.lstrip(" "))) :] + newline
