"""The answer of ``review``: one page of states, findings, changes, ways back and decisions."""

from collections.abc import Iterable, Mapping
from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.change import Change, Changes, Grown
from zonecfg.results.finding import Finding, Findings
from zonecfg.results.outcome import Help, Key, Lines, Told
from zonecfg.results.way import Rank


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


class Progress(Struct, frozen=True, kw_only=True):
    """How far one kind of commissioning work is: how many of how many are done, what failed, what is still open."""

    what: str
    of: int
    done: int
    failed: tuple[str, ...] = ()
    open: tuple[str, ...] = ()


class Hazard(Struct, frozen=True, kw_only=True):
    """What came out of one hazard of one window, by which checks; with the figure and its limit where there is one."""

    word: Literal["passed", "found", "unknown", "not applicable"]
    checks: tuple[str, ...] = ()
    figure: float | None = None
    limit: float | None = None
    unit: str | None = None


class HazardRow(Struct, frozen=True, kw_only=True):
    """The hazards of one window that an actuator moves."""

    opening: str
    falls: Hazard
    fingers: Hazard
    force: Hazard
    fire: Hazard
    rain: Hazard


class Margin(Struct, frozen=True, kw_only=True):
    """A figure that keeps its limit, and how much of the limit it uses up [-]."""

    about: str
    what: str
    figure: float
    limit: float
    unit: str
    used: float


class FileSince(Struct, frozen=True, kw_only=True):
    """A state file against itself at a revision; ``was`` is the name it had then."""

    path: str
    was: str | None = None
    status: Literal["added", "removed", "renamed", "changed", "same"]
    because: str | None = None
    changes: tuple[Change, ...] = ()
    introduced: tuple[Finding, ...] = ()
    cleared: tuple[Finding, ...] = ()
    worse: tuple[Grown, ...] = ()


class AgainstRevision(Struct, frozen=True, kw_only=True):
    """What changed since a revision: the files that differ, how many do not, and every finding that is new."""

    revision: str
    commit: str
    files: tuple[FileSince, ...] = ()
    unchanged: int = 0
    introduced: tuple[Finding, ...] = ()

    @property
    def worse(self) -> frozenset[Key]:
        """File, check and about of the findings that stood before and have grown."""
        return frozenset((file.path, more.check, more.about) for file in self.files for more in file.worse)

    def news(self, findings: Iterable[Finding]) -> tuple[Finding, ...]:
        """Findings of the present state that are new or have grown."""
        worse = self.worse
        return (*self.introduced, *(f for f in findings if f.accepted is None and (f.file, *f.identity) in worse))


class ReviewPage(Struct, frozen=True, kw_only=True):
    """The answer of ``review``: ``zonecfg-review/1``."""

    format: str = "zonecfg-review/1"
    site: str | None = None
    check: Findings
    progress: tuple[Progress, ...] = ()
    compare: Changes | None = None
    decisions: tuple[Question, ...] = ()
    ways_back: WaysBack | None = None
    against: AgainstRevision | None = None
    hazards: tuple[HazardRow, ...] = ()
    """Of the state as commissioned, else as designed."""
    margins: tuple[Margin, ...] = ()
    """The ten figures of that state that are nearest to their limits, and keep them."""


class Review(Struct, frozen=True, kw_only=True):
    """One page for a reviewer, with the help and the lines of its findings."""

    judges: ClassVar[bool] = True
    page: ReviewPage
    help: Mapping[str, Help] = {}
    lines: Lines = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.page

    @property
    def told(self) -> Told:
        """All findings of all states."""
        found = self.page.check
        return Told(
            files=found.files,
            findings=found.findings,
            not_checked=found.not_checked,
            help=self.help,
            lines=self.lines,
            new=self.page.against.introduced if self.page.against is not None else None,
            worse=self.page.against.worse if self.page.against is not None else frozenset(),
        )
