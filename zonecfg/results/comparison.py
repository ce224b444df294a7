"""The answer of ``compare`` with what formats need beside it."""

from collections.abc import Mapping
from typing import Any, ClassVar

from msgspec import Struct

from zonecfg.results.change import Changes
from zonecfg.results.outcome import Help, Lines, Told


class Comparison(Struct, frozen=True, kw_only=True):
    """The changes between two states, with the help and the lines of the findings they move."""

    judges: ClassVar[bool] = True
    changes: Changes
    help: Mapping[str, Help] = {}
    lines: Lines = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.changes

    @property
    def told(self) -> Told:
        """The findings that the second state brings."""
        return Told(findings=self.changes.findings.introduced, help=self.help, lines=self.lines)
