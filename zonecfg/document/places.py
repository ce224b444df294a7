"""Where every node of a document stands, found again by JSON Pointer."""

import re
from array import array
from typing import Any, NamedTuple

from zonecfg.results.pointer import split

_BREAKS = re.compile("\r\n|[\n\r]")


class Place(NamedTuple):
    """A stretch of one line; numbers count from 1 and end_column is the first past it."""

    line: int
    column: int
    end_column: int | None


class Marks(NamedTuple):
    """Line, column and width of each node in the order of reading; counts from 0, as libyaml gives them.

    A node of several lines, a mapping and a list have no width.
    """

    lines: "array[int]"
    columns: "array[int]"
    widths: "array[int]"

    @classmethod
    def empty(cls) -> "Marks":
        """Start without any node."""
        return cls(array("I"), array("I"), array("I"))

    def place(self, slot: int) -> Place:
        """Place of one node, for people."""
        column, width = self.columns[slot] + 1, self.widths[slot]
        return Place(self.lines[slot] + 1, column, column + width if width else None)

    def forget(self, start: int, stop: int) -> None:
        """Take nodes out again."""
        for marks in self:
            del marks[start:stop]


def node_count(value: Any) -> int:
    """How many nodes a value has, keys included."""
    if isinstance(value, dict):
        return 1 + sum(1 + node_count(item) for item in value.values())
    if isinstance(value, list):
        return 1 + sum(node_count(item) for item in value)
    return 1


class Places:
    """The places of one document's nodes.

    The marks lie in the order of reading (a key before its value), so a pointer is found by counting the nodes before
    it. What was counted for a mapping or list is kept: asking for many places of one file stays linear.
    """

    def __init__(self, data: Any, marks: Marks, text: bytes) -> None:
        self._data = data
        self._marks = marks
        self.text = text
        self._children: dict[int, dict[str, int]] = {}
        self._lines: list[str] | None = None

    def of(self, pointer: str) -> Place | None:
        """Place of a node: of a scalar itself, else of its key; the nearest node above where there is none such."""
        if not self._marks.lines:
            return None
        slot, key_slot, value = 0, None, self._data
        for token in split(pointer):
            child = self._child_slots(slot, value).get(token)
            if child is None:
                break
            if isinstance(value, dict):
                slot, key_slot, value = child + 1, child, value[token]
            else:
                slot, key_slot, value = child, None, value[int(token)]
        if key_slot is not None and (isinstance(value, (dict, list)) or not self._marks.widths[slot]):
            slot = key_slot
        return self._marks.place(slot)

    def of_key(self, pointer: str) -> Place | None:
        """Place of the key that a pointer ends in."""
        *parents, last = split(pointer)
        slot, value = 0, self._data
        for token in parents:
            child = self._child_slots(slot, value)[token]
            slot, value = (child + 1, value[token]) if isinstance(value, dict) else (child, value[int(token)])
        return self._marks.place(self._child_slots(slot, value)[last])

    def line(self, number: int) -> str:
        """Text of a line, counted from 1; empty past the end."""
        if self._lines is None:
            self._lines = _BREAKS.split(self.text.decode("utf-8-sig", "replace"))
        return self._lines[number - 1] if 0 < number <= len(self._lines) else ""

    def _child_slots(self, slot: int, value: Any) -> dict[str, int]:
        if slot not in self._children:
            slots: dict[str, int] = {}
            following = slot + 1
            if isinstance(value, dict):
                for key, item in value.items():
                    slots[key] = following
                    following += 1 + node_count(item)
            elif isinstance(value, list):
                for index, item in enumerate(value):
                    slots[str(index)] = following
                    following += node_count(item)
            self._children[slot] = slots
        return self._children[slot]
