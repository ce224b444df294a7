"""A file's characters, and the lines they stand in."""

import re
from bisect import bisect
from functools import cached_property

BREAK = re.compile("\r\n|[\n\r]")


class Text:
    """What a file holds, decoded and counted when first asked for: where nothing is wrong, nobody asks."""

    def __init__(self, raw: bytes) -> None:
        self.raw = raw

    @cached_property
    def characters(self) -> str:
        """All of it, without a byte order mark."""
        return self.raw.decode("utf-8-sig", "replace")

    @cached_property
    def lines(self) -> list[str]:
        """Its lines, without their ends."""
        return BREAK.split(self.characters)

    @cached_property
    def _starts(self) -> list[int]:
        return [0, *(found.end() for found in BREAK.finditer(self.characters))]

    def stands(self, index: int) -> tuple[int, int]:
        """Line and column of a character, both counted from 1."""
        line = bisect(self._starts, index)
        return line, index - self._starts[line - 1] + 1
