"""Where every node of a document stands, found again by JSON Pointer."""

import re
from array import array
from typing import Any, NamedTuple

from zonecfg.results.pointer import split

# One 64-bit word a node, in the order of reading: line, column, width. Counts from 0, as libyaml gives them.
_COLUMN_BITS, _WIDTH_BITS = 26, 12
_LINE_SHIFT = _COLUMN_BITS + _WIDTH_BITS
_MAX_COLUMN, MAX_WIDTH = (1 << _COLUMN_BITS) - 1, (1 << _WIDTH_BITS) - 1
_BREAKS = re.compile("\r\n|[\n\r\x85\u2028\u2029]")


class Place(NamedTuple):
    """A stretch of one line; numbers count from 1 and end_column is the first past it."""

    line: int
    column: int
    end_column: int | None


def pack(line: int, column: int, width: int) -> int:
    """Put a node's place into one word."""
    return line << _LINE_SHIFT | min(column, _MAX_COLUMN) << _WIDTH_BITS | min(width, MAX_WIDTH)


def unpack(word: int) -> Place:
    """Take a word apart again; a node of no width or of several lines has no end."""
    line, column, width = word >> _LINE_SHIFT, word >> _WIDTH_BITS & _MAX_COLUMN, word & MAX_WIDTH
    return Place(line + 1, column + 1, column + 1 + width if width else None)


def node_count(value: Any) -> int:
    """How many nodes a value has, keys included."""
    if isinstance(value, dict):
        return 1 + sum(1 + node_count(item) for item in value.values())
    if isinstance(value, list):
        return 1 + sum(node_count(item) for item in value)
    return 1


class Places:
    """The places of one document's nodes.

    The words lie in the order of reading (a key before its value), so a pointer is found by counting the nodes before
    it. What was counted for a mapping or list is kept: asking for many places of one file stays linear.
    """

    def __init__(self, data: Any, words: "array[int]", text: bytes) -> None:
        self._data = data
        self._words = words
        self._text = text
        self._children: dict[int, dict[str, int]] = {}
        self._lines: list[str] | None = None

    def of(self, pointer: str) -> Place | None:
        """Place of a node: of a scalar itself, else of its key; the nearest node above where there is none such."""
        if not self._words:
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
        word = self._words[slot]
        if key_slot is not None and (isinstance(value, (dict, list)) or not word & MAX_WIDTH):
            word = self._words[key_slot]
        return unpack(word)

    def of_key(self, pointer: str) -> Place | None:
        """Place of the key that a pointer ends in."""
        *parents, last = split(pointer)
        slot, value = 0, self._data
        for token in parents:
            child = self._child_slots(slot, value)[token]
            slot, value = (child + 1, value[token]) if isinstance(value, dict) else (child, value[int(token)])
        return unpack(self._words[self._child_slots(slot, value)[last]])

    def line(self, number: int) -> str:
        """Text of a line, counted from 1; empty past the end."""
        if self._lines is None:
            self._lines = _BREAKS.split(self._text.decode("utf-8-sig", "replace"))
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
