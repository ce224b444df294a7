"""Keys put in order within a text: each entry moves as it is written, with the comments above and beside it."""

from collections.abc import Callable, Sequence

from zonecfg.document.chunks import (
    Chunk,
    behind_marker,
    chunks,
    column_of,
    heads_of,
    is_comment,
    line_end,
    line_spans,
)
from zonecfg.document.nodes import TextNode, nodes
from zonecfg.document.reader import Document
from zonecfg.document.text import BREAK

Keys = Callable[[Sequence[str]], Sequence[str]]
"""The order of keys of the mapping at a path; nothing where they stay as they are."""


def arranged(document: Document, keys: Keys) -> str:
    """Put the keys of a document's mappings in order.

    Parameters
    ----------
    document
        A document without faults of reading.
    keys
        The order of each mapping; keys it does not name follow in the order they have.

    Returns
    -------
    str
        The text, byte order mark included. What stands at the top of the file stays there, down to the last blank
        line above the first key. A mapping in braces keeps its order where comments stand within it.
    """
    text = document.places.text.decode()
    bare = text.removeprefix("\ufeff")
    mark = text[: len(text) - len(bare)]
    root = nodes(bare)
    begin = behind_marker(bare, root)
    return mark + bare[:begin] + _Arranger(bare, keys).region(root, begin, len(bare), ())


class _Arranger:
    def __init__(self, text: str, keys: Keys) -> None:
        self._text = text
        self._keys = keys
        found = BREAK.search(text)
        self._newline = found[0] if found else "\n"

    def region(self, node: TextNode, begin: int, end: int, path: tuple[str, ...]) -> str:
        """Write the stretch of text that holds a node, its keys in order."""
        if node.flow:
            inner = self._flow(node, path)
            return self._text[begin : node.start] + inner + self._text[node.end : end]
        if not node.items and not node.members:
            return self._text[begin:end]
        stretches = chunks(self._text, node, begin, end)
        names = list(node.items) if node.items is not None else [str(n) for n in range(len(stretches))]
        head = begin
        if not path:
            head = self._head(stretches[0])
            stretches[0] = stretches[0]._replace(lead=head)
        pieces = [
            (self._text[chunk.lead : chunk.start], self._own(label, value, chunk, (*path, name)))
            for name, chunk, (label, value) in zip(names, stretches, heads_of(node), strict=True)
        ]
        order = self._order(names, path) if node.items is not None else None
        if order:
            pieces = self._moved(pieces, order, column_of(self._text, node.start), stretches[0])
        foot = self._text[stretches[-1].end : end]
        return self._text[begin:head] + "".join(lead + own for lead, own in pieces) + foot

    def _order(self, names: list[str], path: tuple[str, ...]) -> list[int] | None:
        rank = {key: number for number, key in enumerate(self._keys(path))}
        order = sorted(range(len(names)), key=lambda n: rank.get(names[n], len(rank)))
        return order if rank and order != list(range(len(names))) else None

    def _own(self, label: TextNode, value: TextNode, chunk: Chunk, path: tuple[str, ...]) -> str:
        if value.flow:
            begin, end = value.start, value.end
        elif value.items or value.members:
            begin, end = (value.start if label is value else line_end(self._text, label.end)), chunk.end
        else:
            return self._text[chunk.start : chunk.end]
        return self._text[chunk.start : begin] + self.region(value, begin, end, path) + self._text[end : chunk.end]

    def _head(self, first: Chunk) -> int:
        """Where the head of the file ends: behind the last blank line above the first key, else right above the key."""
        above = list(line_spans(self._text, first.lead, first.start))
        blank = [end for start, end in above if not self._text[start:end].strip()]
        return blank[-1] if blank else first.start

    def _moved(
        self, pieces: list[tuple[str, str]], order: list[int], column: int, first: Chunk
    ) -> list[tuple[str, str]]:
        behind_dash = bool(column_of(self._text, first.start))
        if behind_dash and any(map(is_comment, pieces[order[0]][0].splitlines())):
            return pieces  # a comment cannot stand between a dash and its first key
        if not pieces[-1][1].endswith(("\n", "\r")):
            last_lead, last = pieces[-1]
            ended = [*pieces[:-1], (last_lead, last + self._newline)]
            *moved, (lead, own) = self._moved(ended, order, column, first)
            return [*moved, (lead, own.removesuffix(self._newline))]
        if behind_dash:
            pieces = [(lead, " " * column + own if n == 0 else own) for n, (lead, own) in enumerate(pieces)]
        blanks = [len(lead) - len(_without_blanks(lead)) for lead, _ in pieces]
        new_first = order[0]
        top, other = pieces[0][0][: blanks[0]], pieces[new_first][0][: blanks[new_first]]
        leads = [lead for lead, _ in pieces]
        leads[0], leads[new_first] = other + leads[0][blanks[0] :], top + leads[new_first][blanks[new_first] :]
        moved = [(leads[n], pieces[n][1]) for n in order]
        if behind_dash:
            moved[0] = (moved[0][0], moved[0][1][column:])
        return moved

    def _flow(self, node: TextNode, path: tuple[str, ...]) -> str:
        heads = heads_of(node)
        names = list(node.items) if node.items is not None else [str(n) for n in range(len(heads))]
        slots = [(label.start, max(label.end, value.end)) for label, value in heads]
        held = []
        for name, (start, end), (_, value) in zip(names, slots, heads, strict=True):
            inner = self._flow(value, (*path, name)) if value.flow else self._text[value.start : value.end]
            held.append(self._text[start : value.start] + inner if value.end == end else self._text[start:end])
        order = self._order(names, path) if node.items is not None else None
        ends = [node.start, *(end for _, end in slots)]
        between = [self._text[a:b] for a, b in zip(ends, [*(start for start, _ in slots), node.end], strict=True)]
        if order and not any("#" in gap for gap in between) and not any(value.empty for _, value in heads):
            held = [held[n] for n in order]
        return between[0] + "".join(part for pair in zip(held, between[1:], strict=True) for part in pair)


def _without_blanks(lead: str) -> str:
    """Take the blank lines off the top."""
    while (found := BREAK.search(lead)) and not lead[: found.start()].strip():
        lead = lead[found.end() :]
    return lead
