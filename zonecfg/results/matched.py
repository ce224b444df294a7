"""Actuators found on the bus against the plan: ``zonecfg-match/1``."""

from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.outcome import Told


class Counted(Struct, frozen=True, kw_only=True):
    """How many actuators the plan gives a controller, and how many were found on it; null where nobody said."""

    controller: str | None
    planned: int
    found: int
    difference: int


class Paired(Struct, frozen=True, kw_only=True):
    """An actuator of the plan whose serial was found; ``differs`` says what does not fit."""

    actuator: str
    serial: str
    controller: str | None = None
    differs: tuple[str, ...] = ()


class Missing(Struct, frozen=True, kw_only=True):
    """An actuator of the plan that was not found, or whose serial nobody wrote down."""

    actuator: str
    opening: str | None
    serial: str | None
    controller: str | None
    because: str


class Strange(Struct, frozen=True, kw_only=True):
    """A serial that was found and is nowhere on the plan."""

    serial: str
    row: int
    type: str | None = None
    set: str | None = None
    order: int | None = None
    controller: str | None = None


class Proposal(Struct, frozen=True, kw_only=True):
    """A pair that bus order or type leaves no choice about; still to be confirmed by a person."""

    actuator: str
    serial: str
    because: str


class Matched(Struct, frozen=True, kw_only=True):
    """The answer of ``match``."""

    judges: ClassVar[bool] = False
    format: Literal["zonecfg-match/1"] = "zonecfg-match/1"
    plan: str
    found: str
    controllers: tuple[Counted, ...]
    paired: tuple[Paired, ...]
    missing: tuple[Missing, ...]
    strange: tuple[Strange, ...]
    proposals: tuple[Proposal, ...]
    remarks: tuple[str, ...] = ()
    """What of the list the plan does not know."""

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self

    @property
    def told(self) -> Told:
        """None: what is on the bus is no finding of the plan."""
        return Told()
