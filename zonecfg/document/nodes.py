"""A document as nodes with the stretch of text each takes up, so that one value can be changed and nothing else."""

from collections.abc import Iterator
from typing import Any

from msgspec import Struct
from yaml import MappingEndEvent, MappingStartEvent, ScalarEvent, SequenceEndEvent, SequenceStartEvent
from yaml._yaml import CParser


class TextNode(Struct, gc=False):
    """A scalar, mapping or list: where it begins, and the first character past it."""

    start: int
    end: int
    flow: bool = False
    items: "dict[str, tuple[TextNode, TextNode]] | None" = None
    """Of a mapping: key to its node and its value's."""
    members: "list[TextNode] | None" = None
    """Of a list."""
    empty: bool = False
    """A value left out, as in ``serial:`` with nothing behind it."""

    def last_end(self) -> int:
        """End of the last thing written in it: a block mapping's own end lies behind the comments that follow it."""
        if not self.flow and self.items:
            key, value = next(reversed(self.items.values()))
            return key.end if value.empty else value.last_end()
        if not self.flow and self.members:
            return self.members[-1].last_end()
        return self.end


def nodes(text: str) -> TextNode:
    """Read the nodes of a document that the reader found no fault in; positions count characters of ``text``."""
    parser = CParser(text.encode())
    events: Iterator[Any] = iter(parser.get_event, None)
    for event in events:
        if isinstance(event, (MappingStartEvent, SequenceStartEvent, ScalarEvent)):
            return _node(event, events)
    return TextNode(0, 0, empty=True)


def _end(event: Any) -> int:
    index: int = event.end_mark.index
    return index


def _node(event: Any, events: Iterator[Any]) -> TextNode:
    start = event.start_mark.index
    if isinstance(event, ScalarEvent):
        end = _end(event)
        return TextNode(start, end, empty=end == start)
    if isinstance(event, SequenceStartEvent):
        members: list[TextNode] = []
        for inner in events:
            if isinstance(inner, SequenceEndEvent):
                return TextNode(start, _end(inner), bool(event.flow_style), members=members)
            members.append(_node(inner, events))
    items: dict[str, tuple[TextNode, TextNode]] = {}
    for inner in events:
        if isinstance(inner, MappingEndEvent):
            return TextNode(start, _end(inner), bool(event.flow_style), items=items)
        items[inner.value] = (_node(inner, events), _node(next(events), events))
    raise ValueError("the document ends in the middle")
