"""What a command found out, with all that a format needs to tell it."""

from collections.abc import Mapping
from typing import Any, ClassVar, Protocol

from msgspec import Struct

from zonecfg.results.finding import FileSummary, Finding, Findings, NotChecked, Severity

Lines = Mapping[tuple[str, int], str]
"""Source lines by file and number."""


Key = tuple[str | None, str, str]
"""File, check and about of a finding."""


class Help(Struct, frozen=True, kw_only=True):
    """The help text of a check: what it says, why, an example that is wrong, the cure and one that is right."""

    check: str
    severity: str
    family: str
    title: str
    why: str
    wrong: str
    cure: str
    right: str
    source: str


class Told(Struct, frozen=True, kw_only=True):
    """What a format that tells nothing but findings needs of an answer."""

    files: tuple[FileSummary, ...] = ()
    findings: tuple[Finding, ...] = ()
    not_checked: tuple[NotChecked, ...] = ()
    help: Mapping[str, Help] = {}
    lines: Lines = {}
    new: tuple[Finding, ...] | None = None
    """Those that were not there at the revision compared with; None where nothing was compared."""
    worse: frozenset[Key] = frozenset()
    """Those that were there, and have grown since."""

    @property
    def new_keys(self) -> frozenset[Key] | None:
        """File, check and about of each of these."""
        return None if self.new is None else frozenset((f.file, *f.identity) for f in self.new)


class Answer(Protocol):
    """What every command gives to a format."""

    judges: ClassVar[bool]
    """Whether it tells findings at all."""

    @property
    def plain(self) -> Any:
        """What goes into JSON."""

    @property
    def told(self) -> Told:
        """Its findings, for formats that tell nothing else."""


class Outcome(Struct, frozen=True, kw_only=True):
    """Findings, the help of the checks they name, and the source lines they quote, by file and line."""

    judges: ClassVar[bool] = True
    findings: Findings
    help: Mapping[str, Help] = {}
    lines: Lines = {}
    shown: Severity = "note"
    """From which severity on a person is told findings one by one; JSON and the like hold all."""

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.findings

    @property
    def told(self) -> Told:
        """All findings."""
        found = self.findings
        return Told(
            files=found.files,
            findings=found.findings,
            not_checked=found.not_checked,
            help=self.help,
            lines=self.lines,
        )
