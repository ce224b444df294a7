"""The answer of ``record``: what was taken from the sheet, what contradicts the plan, what is still blank."""

from msgspec import Struct


class Blank(Struct, frozen=True):
    """A column, and the things that have no value in it yet."""

    section: str
    title: str
    ids: tuple[str, ...]


class Recorded(Struct, frozen=True, kw_only=True):
    """What a sheet did to a record."""

    path: str
    values: int
    """How many values the sheet holds."""
    new: int
    """How many of them the record did not hold before."""
    rows: dict[str, tuple[int, int]]
    """Section: rows with something filled in, and things on the plan."""
    against: tuple[str, ...]
    """Values that contradict the plan; they are recorded as they were found."""
    before: tuple[str, ...]
    """Values recorded earlier that are different now."""
    blank: tuple[Blank, ...]
    updated: bool
    """Whether a record stood there already."""
