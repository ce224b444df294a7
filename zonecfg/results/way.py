"""A way back: what would stand, what it loses and returns, and the steps in order."""

from collections.abc import Mapping
from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.change import Change, Consequence, FigureMove, FindingsMoved
from zonecfg.results.finding import Severity
from zonecfg.results.outcome import Help, Told

WayKind = Literal["restore", "restore-then-mend", "by-hand", "keep"]
Do = Literal[
    "save-copy",
    "tell-people",
    "isolate",
    "reconnect",
    "close",
    "hold-still",
    "release",
    "restore",
    "make-group",
    "name-group",
    "set-wet-action",
    "set-wind-action",
    "link",
    "move",
    "park",
    "put-in",
    "unlink",
    "clear-wet-action",
    "clear-wind-action",
    "empty-group",
    "test",
]


class Step(Struct, frozen=True, kw_only=True):
    """One thing to do. ``uncovered`` counts the actuators without rain closing once it is done.

    ``controller`` is the one that holds ``group``, where it is known; ``action`` what a set action says; ``about`` what
    a group is called; ``caution`` what must be minded at this step; ``isolated`` who is cut off once it is done.
    """

    do: Do
    text: str
    actuators: tuple[str, ...] = ()
    actuator: str | None = None
    group: str | None = None
    from_group: str | None = None
    sensor: str | None = None
    uncovered: int
    controller: str | None = None
    openings: tuple[str, ...] = ()
    action: dict[str, Any] | None = None
    about: dict[str, Any] | None = None
    caution: str | None = None
    isolated: tuple[str, ...] = ()


class Retest(Struct, frozen=True, kw_only=True):
    """Something to be tested again, and why."""

    test: Literal["calibrate", "walk-test", "measure-gap", "wet-test"]
    section: str
    id: str
    because: str


class AlsoReturns(Struct, frozen=True, kw_only=True):
    """What a copy brings back that no file shows."""

    controller: str
    what: str
    text: str


class Exposure(Struct, frozen=True, kw_only=True):
    """Actuators without rain closing: now, at worst on the way, when it is done, and summed over the steps.

    ``actuator_minutes`` weighs each step with its minutes [min].
    """

    now: int
    at_worst: int
    after: int
    sum_over_steps: int
    worst_actuators: int = 0
    actuator_minutes: float = 0.0


class Search(Struct, frozen=True, kw_only=True):
    """How the order was found: ``exact`` over all ``operations``, or a heuristic; with a lower bound of the moves.

    ``proven`` says what is proven of the order, and of what; null where nothing is.
    """

    method: str
    moving_sashes: int
    exact: bool
    sum_over_moves: int
    lower_bound: int
    operations: int = 0
    proven: str | None = None


class Standing(Struct, frozen=True, kw_only=True):
    """A finding there is when a way is done, with what it touches."""

    check: str
    about: str
    severity: Severity
    consequence: Consequence
    message: str


class Way(Struct, frozen=True, kw_only=True):
    """One way of several, with everything that speaks for and against it."""

    way: WayKind
    target: str
    first: tuple[str, ...] = ()
    """What must be said before all else."""
    predicted: dict[str, Any]
    lost: tuple[Change, ...] = ()
    returns: tuple[Change, ...] = ()
    stays: tuple[Change, ...] = ()
    """What still differs from the target afterwards, because no setting can bring it back."""
    also_returns: tuple[AlsoReturns, ...] = ()
    warnings: tuple[str, ...] = ()
    findings: FindingsMoved = FindingsMoved()
    figures: tuple[FigureMove, ...] = ()
    steps: tuple[Step, ...] = ()
    exposure: Exposure
    search: Search | None = None
    retest: tuple[Retest, ...] = ()
    minutes: float
    standing: tuple[Standing, ...] = ()
    """Findings when it is done."""
    uncovered_openings: tuple[str, ...] = ()
    """Openings without rain closing when it is done."""

    @property
    def name(self) -> str:
        """How people call the way."""
        return {
            "restore": f"put {self.target} back",
            "restore-then-mend": f"put {self.target} back, then mend it",
            "by-hand": f"go to {self.target} by hand",
            "keep": "keep what stands",
        }[self.way]


class Rank(Struct, frozen=True, kw_only=True):
    """A way's place, with the reason in words. ``equal_to`` names ways that these measures cannot tell from it."""

    place: int
    way: WayKind
    target: str
    reason: str
    equal_to: tuple[str, ...] = ()


class Ways(Struct, frozen=True, kw_only=True):
    """The answer of ``rollback``: ``zonecfg-rollback/1``. A person decides."""

    format: Literal["zonecfg-rollback/1"] = "zonecfg-rollback/1"
    now: str
    ways: tuple[Way, ...]
    ranking: tuple[Rank, ...]
    questions: tuple[str, ...] = ()


def in_order(answer: Ways) -> list[Way]:
    """Give the ways in the order of their ranks."""
    by_name = {(way.way, way.target): way for way in answer.ways}
    return [by_name[rank.way, rank.target] for rank in answer.ranking]


class RollbackOutcome(Struct, frozen=True, kw_only=True):
    """Every way back, with the help of the findings they bring and clear."""

    judges: ClassVar[bool] = False
    ways: Ways
    help: Mapping[str, Help] = {}
    only: int | None = None
    """The place, from 1, of the way that is told alone, as a work order; None for all."""

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.ways

    @property
    def told(self) -> Told:
        """None: what is predicted stands nowhere yet."""
        return Told()
