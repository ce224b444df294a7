"""A rehearsed spell of weather: what happened when, where every group stood, and what stayed open in the rain."""

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.outcome import Told


class Happening(Struct, frozen=True, kw_only=True):
    """Something that happens at a moment [s], told in words."""

    at_s: float
    what: Literal[
        "wet",
        "dry",
        "wind",
        "calm",
        "lost",
        "fire",
        "closes",
        "waits",
        "returns",
        "stays",
        "opens",
        "queues",
        "settled",
    ]
    text: str
    sensor: str | None = None
    group: str | None = None


class Position(Struct, frozen=True, kw_only=True):
    """How far the widest sash of a group stands open at a moment [s]; between two of them it moves evenly."""

    at_s: float
    open_percent: float


class Spell(Struct, frozen=True, kw_only=True):
    """When a sensor is wet, or the wind strong [s]."""

    sensor: str
    kind: Literal["rain", "wind"]
    start_s: float
    end_s: float


class OpenInRain(Struct, frozen=True, kw_only=True):
    """A window that stands open when a spell of rain ends, and why."""

    opening: str
    group: str | None
    open_percent: float
    at_s: float
    because: str


class PeakCurrent(Struct, frozen=True, kw_only=True):
    """Largest current of a supply on the way [A], and when [s]; null where it cannot be computed."""

    supply: str
    current_a: float | None
    at_s: float | None
    because: str | None = None


class LowestVoltage(Struct, frozen=True, kw_only=True):
    """Lowest voltage at a moving actuator [V], and when [s]."""

    actuator: str
    voltage_v: float
    at_s: float


class Rehearsal(Struct, frozen=True, kw_only=True):
    """The answer of ``rehearse``: ``zonecfg-rehearsal/1``."""

    format: Literal["zonecfg-rehearsal/1"] = "zonecfg-rehearsal/1"
    file: str
    spells: tuple[Spell, ...]
    happenings: tuple[Happening, ...]
    positions: dict[str, tuple[Position, ...]]
    settled_s: float | None
    """When the last window that closed had stopped; null where none closed."""
    ends_s: float
    open_in_rain: tuple[OpenInRain, ...]
    peaks: tuple[PeakCurrent, ...]
    lowest: LowestVoltage | None
    notes: tuple[str, ...] = ()


def position_at(positions: Sequence[Position], now: float) -> float:
    """How far a group stands open at a moment [percent]: between two marks it moves evenly."""
    before = positions[0]
    for mark in positions:
        if mark.at_s > now:
            if mark.at_s == before.at_s:
                return mark.open_percent
            share = (now - before.at_s) / (mark.at_s - before.at_s)
            return before.open_percent + share * (mark.open_percent - before.open_percent)
        before = mark
    return before.open_percent


class RehearsalOutcome(Struct, frozen=True, kw_only=True):
    """A rehearsed spell of weather, with the names people call groups by."""

    judges: ClassVar[bool] = False
    rehearsal: Rehearsal
    names: Mapping[str, str] = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.rehearsal

    @property
    def told(self) -> Told:
        """None: a rehearsal judges nothing."""
        return Told()
