"""A filled worksheet as it came back: its cells and where each stands, before anything is made of them."""

from datetime import date

from msgspec import Struct

from zonecfg.errors import UnreadableSheet
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.words import counted
from zonecfg.sheets.columns import Form

MAX_BYTES = 20_000_000
"""Size of one sheet: a workbook of 50,000 actuators takes half of it."""

MAX_CELL = 2_000
"""Characters in one cell."""

Cell = str | int | float | bool | date


class RawCell(Struct, frozen=True, gc=False):
    """What stands in one cell, and its name for people."""

    where: str
    value: Cell


class RawRow(Struct, frozen=True):
    """One row: the thing it is about and what is filled in, by column key."""

    section: str
    thing: str
    where: str
    cells: dict[str, RawCell]


class RawSheet(Struct, frozen=True):
    """A sheet without faults of form."""

    file: str
    format: str
    site: str
    revision: str
    key: str = ""
    rows: tuple[RawRow, ...] = ()


def refuse(file: str, faults: list[str]) -> None:
    """Stop at faults of a sheet, if there are any: the first is told whole, the others are counted.

    Raises
    ------
    UnreadableSheet
        There is one.
    """
    if faults:
        more = f"; {counted(len(faults) - 1, 'more fault')}: {faults[1].split(':')[0]}" if len(faults) > 1 else ""
        raise UnreadableSheet(f"{file}: {faults[0]}{more}{' …' if len(faults) > 2 else ''}; nothing was recorded")


def right_form(file: str, said: str | None, form: Form) -> None:
    """Stop where a sheet says that it is of another form; one that says nothing is told later.

    Raises
    ------
    UnreadableSheet
        It does.
    """
    if said is not None and said != form.format:
        what = f"says {said[:40]}" if said else "does not say what it is"
        raise UnreadableSheet(f"{file}: {what}; {form.called} says {form.format}; nothing was recorded")


def header_faults(where: str, titles: list[str], known: list[str], needed: list[str]) -> list[str]:
    """Say what is wrong with the columns of a table."""
    faults = [
        f"{where}: {title[:60]} is no column of this sheet{did_you_mean(title, known)}"
        for title in titles
        if title and title not in known
    ]
    faults += [f"{where}: the column {title} is missing" for title in needed if title not in titles]
    faults += [
        f"{where}: the column {title} stands twice"
        for title in dict.fromkeys(titles)
        if titles.count(title) > 1 and title
    ]
    return faults
