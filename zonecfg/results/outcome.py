"""What a command found out, with all that a format needs to tell it."""

from collections.abc import Mapping
from typing import Any, Literal

from msgspec import Struct

from zonecfg.results.change import Change, Changes
from zonecfg.results.figure import FiguresPage
from zonecfg.results.finding import FileSummary, Finding, Findings, NotChecked
from zonecfg.results.rehearsal import Rehearsal
from zonecfg.results.way import Rank, Ways

Lines = Mapping[tuple[str, int], str]


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


class Field(Struct, frozen=True, kw_only=True):
    """A field of the format."""

    name: str
    meaning: str
    kind: str
    required: bool = False
    bounds: str | None = None
    allowed: tuple[str, ...] = ()
    example: str | None = None


class Guide(Struct, frozen=True, kw_only=True):
    """The list of everything that can be explained."""

    checks: tuple[Help, ...]
    fields: tuple[Field, ...]


class Outcome(Struct, frozen=True, kw_only=True):
    """Findings, the help of the checks they name, and the source lines they quote, by file and line."""

    findings: Findings
    help: Mapping[str, Help] = {}
    lines: Lines = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.findings


class Comparison(Struct, frozen=True, kw_only=True):
    """The changes between two states, with the help and the lines of the findings they move."""

    changes: Changes
    help: Mapping[str, Help] = {}
    lines: Lines = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.changes


class Question(Struct, frozen=True, kw_only=True):
    """Something a person has to decide: what it is about, the question, and what speaks for either answer."""

    about: str
    question: str
    because: str


class WaysBack(Struct, frozen=True, kw_only=True):
    """The ranking of ways back, in short: where to read more, or why there is none."""

    command: str
    names: tuple[str, ...] = ()
    ranking: tuple[Rank, ...] = ()
    because: str | None = None


class FileSince(Struct, frozen=True, kw_only=True):
    """A state file against itself at a revision; ``was`` is the name it had then."""

    path: str
    was: str | None = None
    status: Literal["added", "removed", "renamed", "changed", "same"]
    because: str | None = None
    changes: tuple[Change, ...] = ()
    introduced: tuple[Finding, ...] = ()
    cleared: tuple[Finding, ...] = ()


class AgainstRevision(Struct, frozen=True, kw_only=True):
    """What changed since a revision: the files that differ, how many do not, and every finding that is new."""

    revision: str
    commit: str
    files: tuple[FileSince, ...] = ()
    unchanged: int = 0
    introduced: tuple[Finding, ...] = ()


class ReviewPage(Struct, frozen=True, kw_only=True):
    """The answer of ``review``: ``zonecfg-review/1``."""

    format: str = "zonecfg-review/1"
    site: str | None = None
    check: Findings
    compare: Changes | None = None
    decisions: tuple[Question, ...] = ()
    ways_back: WaysBack | None = None
    against: AgainstRevision | None = None


class Review(Struct, frozen=True, kw_only=True):
    """One page for a reviewer, with the help and the lines of its findings."""

    page: ReviewPage
    help: Mapping[str, Help] = {}
    lines: Lines = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.page


class RollbackOutcome(Struct, frozen=True, kw_only=True):
    """Every way back, with the help of the findings they bring and clear."""

    ways: Ways
    help: Mapping[str, Help] = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.ways


class RehearsalOutcome(Struct, frozen=True, kw_only=True):
    """A rehearsed spell of weather, with the names people call groups by."""

    rehearsal: Rehearsal
    names: Mapping[str, str] = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.rehearsal


Answer = Outcome | Comparison | Review | RollbackOutcome | RehearsalOutcome | FiguresPage


class Told(Struct, frozen=True, kw_only=True):
    """What a format of findings needs of any answer."""

    files: tuple[FileSummary, ...] = ()
    findings: tuple[Finding, ...] = ()
    not_checked: tuple[NotChecked, ...] = ()
    help: Mapping[str, Help] = {}
    lines: Lines = {}


def findings_of(answer: Answer) -> Told:
    """Give the findings an answer tells: all of ``check`` and ``review``, those that ``compare`` brings; else none."""
    if isinstance(answer, Outcome | Review):
        found = answer.findings if isinstance(answer, Outcome) else answer.page.check
        return Told(
            files=found.files,
            findings=found.findings,
            not_checked=found.not_checked,
            help=answer.help,
            lines=answer.lines,
        )
    if isinstance(answer, Comparison):
        return Told(findings=answer.changes.findings.introduced, help=answer.help, lines=answer.lines)
    return Told()
