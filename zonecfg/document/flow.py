"""Entries taken out of, and put into, a mapping or list in braces, with the commas between them."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from typing import Any

from zonecfg.document.chunks import heads_of, is_comment
from zonecfg.document.nodes import TextNode
from zonecfg.document.writer import Edit
from zonecfg.errors import CannotWrite


def flow_edits(
    text: str,
    node: TextNode,
    names: Sequence[Any],
    wanted: AbstractSet[Any],
    fresh: Mapping[Any, list[Any]],
    written: Callable[[Any], str],
) -> Iterator[Edit]:
    """Give the edits that leave only some entries in braces, and put new ones between them.

    Parameters
    ----------
    text, node
        The document, and a mapping or list in braces of which at least one entry stays.
    names
        Its entries: keys, or what items are known by.
    wanted
        Those that stay.
    fresh
        New entries behind each of these; behind None those that come first.
    written
        Writes a new entry.

    Raises
    ------
    CannotWrite
        A comment stands within what is to be taken out.
    """
    spans = [(label.start, max(label.end, value.end)) for label, value in heads_of(node)]
    kept = [index for index, name in enumerate(names) if name in wanted]
    for start, end in _gaps(spans, set(kept)):
        yield Edit(start, end, "")
        inside = text[start:end]
        if "#" in inside and any(is_comment(line) or " #" in line for line in inside.splitlines()):
            raise CannotWrite("a comment stands within what is to be taken out")
    for before, entries in fresh.items():
        parts = [written(name) for name in entries]
        if before is None:
            place = spans[kept[0]][0]
            yield Edit(place, place, ", ".join(parts) + ", ")
        else:
            place = spans[names.index(before)][1]
            yield Edit(place, place, "".join(f", {part}" for part in parts))


def _gaps(spans: Sequence[tuple[int, int]], kept: AbstractSet[int]) -> Iterator[tuple[int, int]]:
    """Give the stretches to take out so that only some entries in braces stay, with the commas between them."""
    index = 0
    while index < len(spans):
        if index in kept:
            index += 1
            continue
        first = index
        while index < len(spans) and index not in kept:
            index += 1
        yield (spans[first][0], spans[index][0]) if index < len(spans) else (spans[first - 1][1], spans[-1][1])
