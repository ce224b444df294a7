"""Where every node of a document stands, found again by JSON Pointer."""

import re
from collections.abc import Sequence
from typing import Any, NamedTuple

from zonecfg.document.text import BREAK, Text
from zonecfg.results.pointer import split

_QUOTED = re.compile(r"""(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*')""", re.DOTALL)
_WORD = re.compile(r"[\w.+~-]*")  # a number, or true, false and null


class Place(NamedTuple):
    """A stretch of one line; numbers count from 1 and end_column is the first past it."""

    line: int
    column: int
    end_column: int | None


def node_count(value: Any) -> int:
    """How many nodes a value has, keys included."""
    if isinstance(value, dict):
        return 1 + sum(1 + node_count(item) for item in value.values())
    if isinstance(value, list):
        return 1 + sum(node_count(item) for item in value)
    return 1


class Places:
    """The places of one document's nodes.

    The nodes lie in the order of reading (a key before its value), so a pointer is found by counting the nodes before
    it. What was counted for a mapping or list is kept: asking for many places of one file stays linear.

    Parameters
    ----------
    data
        The document.
    starts
        The number of each node's first character, in the order of reading, counted as libyaml does.
    text
        What the file holds.
    """

    def __init__(self, data: Any, starts: Sequence[int] = (), text: Text | None = None) -> None:
        self._data = data
        self._starts = starts
        self._text = text or Text(b"")
        self._children: dict[int, dict[str, int]] = {}

    def of(self, pointer: str) -> Place | None:
        """Place of a node: of a scalar itself, else of its key; the nearest node above where there is none such."""
        if not self._starts:
            return None
        slot, key_slot, key, value = 0, None, "", self._data
        for token in split(pointer):
            child = self._child_slots(slot, value).get(token)
            if child is None:
                break
            if isinstance(value, dict):
                slot, key_slot, key, value = child + 1, child, token, value[token]
            else:
                slot, key_slot, value = child, None, value[int(token)]
        place = self._place(slot, value)
        if key_slot is not None and place.end_column is None:
            return self._place(key_slot, key)
        return place

    def of_key(self, pointer: str) -> Place | None:
        """Place of the key that a pointer ends in."""
        if not self._starts:
            return None
        *parents, last = split(pointer)
        slot, value = 0, self._data
        for token in parents:
            child = self._child_slots(slot, value)[token]
            slot, value = (child + 1, value[token]) if isinstance(value, dict) else (child, value[int(token)])
        return self._place(self._child_slots(slot, value)[last], last)

    def line(self, number: int) -> str:
        """Text of a line, counted from 1; empty past the end."""
        return self._text.lines[number - 1] if 0 < number <= len(self._text.lines) else ""

    @property
    def text(self) -> bytes:
        """The file's bytes."""
        return self._text.raw

    def _place(self, slot: int, value: Any) -> Place:
        line, column = self._text.stands(self._starts[slot])
        width = self._width(self._starts[slot], value)
        return Place(line, column, column + width if width else None)

    def _width(self, start: int, value: Any) -> int:
        """Give the characters of a scalar on one line; 0 for one of several lines, a mapping and a list."""
        text = self._text.characters
        if isinstance(value, (dict, list)):
            return 0
        if quoted := _QUOTED.match(text, start):
            return 0 if BREAK.search(quoted[0]) else len(quoted[0])
        if not isinstance(value, str):
            word = _WORD.match(text, start)
            return len(word[0]) if word else 0
        return len(value) if text.startswith(value, start) and not BREAK.search(value) else 0

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
