"""What was taken from a sheet, what contradicts the plan, what is still blank: ``zonecfg-record/1``."""

from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.outcome import Told


class Blank(Struct, frozen=True):
    """A column, and the things that have no value in it yet."""

    section: str
    title: str
    ids: tuple[str, ...]


class Recorded(Struct, frozen=True, kw_only=True):
    """The answer of ``record``: what a sheet did to a record."""

    judges: ClassVar[bool] = False
    format: Literal["zonecfg-record/1"] = "zonecfg-record/1"
    path: str
    values: int
    """How many values the sheet holds."""
    new: int
    """How many of them the record did not hold before."""
    rows: dict[str, tuple[int, int]]
    """Section: rows with something filled in, and things on the plan."""
    against: tuple[str, ...]
    """Values that contradict the plan or the calendar; they are recorded as they were found."""
    before: tuple[str, ...]
    """Values recorded earlier that are different now."""
    blank: tuple[Blank, ...]
    updated: bool
    """Whether a record stood there already."""

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self

    @property
    def told(self) -> Told:
        """None: a record is judged by ``check``."""
        return Told()
