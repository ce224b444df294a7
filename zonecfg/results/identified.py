"""Rounds of opening that tell actuators apart, and what was seen in them: ``zonecfg-identify/1``."""

from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.outcome import Told

Position = Literal["closed", "part", "open"]

LETTERS: dict[int, tuple[Position, ...]] = {2: ("closed", "open"), 3: ("closed", "part", "open")}
"""What the letters of a code word mean, by the number of positions."""


class ResolveFirst(Struct, frozen=True, kw_only=True):
    """What must be known before any unknown serial moves, whom it touches, and how to find out."""

    because: str
    ids: tuple[str, ...]
    how: str


class UnitPlan(Struct, frozen=True, kw_only=True):
    """Serials that move as one, and where they go, a position a round."""

    unit: int
    serials: tuple[str, ...]
    set: str | None
    controller: str | None
    type: str | None
    positions: tuple[Position, ...]


class WindowPlan(Struct, frozen=True, kw_only=True):
    """A window whose actuators are to be found."""

    opening: str
    actuators: tuple[str, ...]


class Start(Struct, frozen=True, kw_only=True):
    """Units that are set moving together, so many seconds into their round; null where travel times are not known."""

    at_s: float | None
    closed: tuple[int, ...] = ()
    part: tuple[int, ...] = ()
    open: tuple[int, ...] = ()


class Round(Struct, frozen=True, kw_only=True):
    """One round: a rest first where the actuators need one, the starts, and when the last unit has stopped [s]."""

    rest_s: float | None
    starts: tuple[Start, ...]
    still_after_s: float | None


class AtWindow(Struct, frozen=True, kw_only=True):
    """What the reports of one window say."""

    opening: str
    seen: tuple[Position | None, ...]
    result: Literal["named", "ambiguous", "impossible"]
    serials: tuple[str, ...] = ()
    """Serials of the unit that was named."""
    actuators: dict[str, str] = {}
    """Actuator to serial, where it is certain which is which."""
    because: str
    differs: tuple[str, ...] = ()
    """What of the found list does not fit the plan."""
    misread: tuple[int, ...] = ()
    """Rounds whose report was corrected."""
    candidates: tuple[tuple[str, ...], ...] = ()
    """Units it may be, each by its serials."""
    repeat: tuple[int, ...] = ()
    """Rounds to do again."""


class Seen(Struct, frozen=True, kw_only=True):
    """A filled observer sheet, decoded."""

    sheet: str
    windows: tuple[AtWindow, ...]
    unplaced: tuple[tuple[str, ...], ...]
    """Units that no window named, each by its serials."""
    repeat: tuple[int, ...]


class BySet(Struct, frozen=True, kw_only=True):
    """A serial whose window is known without moving it: one of its set is known."""

    serial: str
    opening: str
    actuator: str | None


class Identified(Struct, frozen=True, kw_only=True):
    """The answer of ``identify``: the rounds and, where a filled sheet was given, what it says."""

    judges: ClassVar[bool] = False
    format: Literal["zonecfg-identify/1"] = "zonecfg-identify/1"
    plan: str
    found: str
    levels: int
    distance: int
    key: str
    """What the sheets were made of: options, found list and windows."""
    units: tuple[UnitPlan, ...]
    windows: tuple[WindowPlan, ...]
    first: tuple[ResolveFirst, ...]
    """Where there is any, nothing moves: there are no rounds."""
    by_set: tuple[BySet, ...]
    aside: tuple[str, ...]
    """Serials that take no part."""
    rounds: tuple[Round, ...]
    closing: Round | None
    rounds_at_least: int
    minutes: float | None
    minutes_one_by_one: float | None
    cautions: tuple[str, ...]
    remarks: tuple[str, ...]
    seen: Seen | None = None

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self

    @property
    def told(self) -> Told:
        """None: what stands where is no finding of the plan."""
        return Told()
