"""A difference between two states of a site, told as what it means."""

from typing import Any, Literal

from msgspec import Struct

from zonecfg.results.finding import Finding, Severity

Kind = Literal["added", "removed", "renamed", "replaced", "moved", "linked", "unlinked", "changed", "recorded"]
Consequence = Literal["safety", "weather", "air", "electrical", "operation", "record"]
KINDS: tuple[Kind, ...] = (
    "added",
    "removed",
    "renamed",
    "replaced",
    "moved",
    "linked",
    "unlinked",
    "changed",
    "recorded",
)
CONSEQUENCES: tuple[Consequence, ...] = ("safety", "weather", "air", "electrical", "operation", "record")


class Change(Struct, frozen=True, kw_only=True):
    """One thing that differs. ``at_before`` and ``at_after`` are JSON Pointers, null where a side has no such place."""

    kind: Kind
    section: str
    id: str
    field: str | None = None
    before: Any = None
    after: Any = None
    consequence: Consequence
    at_before: str | None = None
    at_after: str | None = None
    text: str


class StateRef(Struct, frozen=True, kw_only=True):
    """Which file stands on one side of a comparison."""

    path: str
    state: str | None


class GrownSide(Struct, frozen=True, kw_only=True):
    """How grave a finding is in one state, what it speaks of, and its figure."""

    severity: Severity
    subjects: tuple[str, ...]
    figure: float | None


class Grown(Struct, frozen=True, kw_only=True):
    """A finding that both states have, and that is worse in the second."""

    check: str
    about: str
    before: GrownSide
    after: GrownSide


class FindingsMoved(Struct, frozen=True, kw_only=True):
    """Findings that the second state has and the first had not, the other way round, and those that got worse."""

    introduced: tuple[Finding, ...] = ()
    cleared: tuple[Finding, ...] = ()
    worse: tuple[Grown, ...] = ()


class FigureMove(Struct, frozen=True, kw_only=True):
    """A computed figure that differs by more than rounding; null where it cannot be computed."""

    section: str
    id: str
    figure: str
    before: float | str | None
    after: float | str | None


class Changes(Struct, frozen=True, kw_only=True):
    """The answer of ``compare``: ``zonecfg-changes/1``."""

    format: Literal["zonecfg-changes/1"] = "zonecfg-changes/1"
    before: StateRef
    after: StateRef
    changes: tuple[Change, ...] = ()
    findings: FindingsMoved = FindingsMoved()
    figures: tuple[FigureMove, ...] = ()
    patch: tuple[dict[str, Any], ...] = ()
