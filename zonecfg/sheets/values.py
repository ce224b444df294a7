"""What a cell means: numbers with or without their unit, days, and words to choose from."""

import math
import re
from datetime import date

from zonecfg.results.words import listed
from zonecfg.sheets.columns import Column
from zonecfg.sheets.raw import Cell

Value = str | int | float | bool

_NUMBER = re.compile(r"([+-]?[0-9]+)(?:([.,])([0-9]+))?\s*(\S.*)?\Z")
_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})\Z")
_DOTTED = re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})\Z")
_UNITS = {"Ω": ("ohm", "ohms", "Ω", "Ω")}  # the second is the letter omega, the third the ohm sign
_WORDS = {"yes": True, "no": False, "true": True, "false": False, "y": True, "n": False}
BECAME_A_NUMBER = "a spreadsheet took the serial for a number; format the column as text and type it again"
_AS_A_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?[eE][+-][0-9]+|[0-9]+[.,]0+")  # 12E4 is a serial like another
_HIDDEN = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029]")
_LONGEST_TEXT = 200


def value_of(cell: Cell, column: Column) -> Value:
    """Give the value of a cell.

    A number may carry the unit of its column and a decimal comma before one or two digits. A day is year-month-day,
    or day.month.year with dots; with slashes it could be either way round.

    Raises
    ------
    ValueError
        It is none that the column takes; the message says what would be one.
    """
    if isinstance(cell, str) and cell.startswith("="):
        raise ValueError("holds a formula; type the value itself")
    if column.kind in ("number", "count"):
        return _number(cell, column)
    if column.kind == "day":
        return _day(cell)
    if column.kind == "flag":
        word = str(cell).lower()
        if word not in _WORDS:
            raise ValueError(f"{_shown(cell)} is neither yes nor no")
        return _WORDS[word]
    if column.kind == "choice":
        if str(cell).lower() not in column.choices:
            raise ValueError(f"{_shown(cell)} is none of {listed(column.choices)}")
        return str(cell).lower()
    if column.key == "serial" and isinstance(cell, str) and became_a_number(cell):
        raise ValueError(f"{_shown(cell)}: {BECAME_A_NUMBER}")
    return _text(cell)


def became_a_number(serial: str) -> bool:
    """Whether a spreadsheet has taken a serial for a number, so that its last digits are gone."""
    return _AS_A_NUMBER.fullmatch(serial) is not None


def _shown(cell: Cell) -> str:
    text = str(cell)
    return text if len(text) <= 40 else text[:39] + "…"


def _text(cell: Cell) -> str:
    text = str(cell)
    if not isinstance(cell, (str, int)) or isinstance(cell, bool):
        raise ValueError(f"{_shown(cell)} is no text; format the cell as text and type it again")  # noqa: TRY004
    if _HIDDEN.search(text):
        raise ValueError("holds a line break or a sign that cannot be seen")
    if len(text) > _LONGEST_TEXT:
        raise ValueError(f"{len(text)} characters; {_LONGEST_TEXT} is the most")
    return text


def _number(cell: Cell, column: Column) -> int | float:
    number = _measured(cell, column) if isinstance(cell, str) else cell
    if isinstance(number, (bool, date)) or not math.isfinite(number):
        raise ValueError(f"{_shown(cell)} is no number")
    if column.kind == "count" and number != int(number):
        raise ValueError(f"{_shown(cell)} is no whole number")
    unit = f" {column.unit}" if column.unit else ""
    if column.above is not None and number <= column.above:
        raise ValueError(f"{number:g}{unit} is not more than {column.above:g}")
    if column.least is not None and number < column.least:
        raise ValueError(f"{number:g}{unit} is less than {column.least:g}")
    if column.most is not None and number > column.most:
        raise ValueError(f"{number:g}{unit} is more than {column.most:g}")
    return int(number) if number == int(number) else number


def _measured(text: str, column: Column) -> int | float:
    match = _NUMBER.match(text)
    if match is None or len(text) > 40:
        raise ValueError(f"{_shown(text)} is no number")
    whole, sign, part, unit = match.groups()
    if unit and unit.lower() not in {
        name.lower() for name in (column.unit or "", *_UNITS.get(column.unit or "", ())) if name
    }:
        asked = f"it is asked in {column.unit}" if column.unit else "it is a plain number"
        raise ValueError(f"{_shown(text)}: {asked}")
    if sign == "," and len(part) > 2:
        raise ValueError(f"{_shown(text)} could be two numbers; write it without a comma")
    return float(f"{whole}.{part}") if part else int(whole)


def _day(cell: Cell) -> str:
    if isinstance(cell, date):
        return cell.isoformat()
    if match := _ISO.match(str(cell)):
        year, month, day = match.groups()
    elif match := _DOTTED.match(str(cell)):
        day, month, year = match.groups()
    else:
        raise ValueError(f"{_shown(cell)} can be read two ways or is no day; write it as 2026-05-14")
    try:
        return date(int(year), int(month), int(day)).isoformat()
    except ValueError:
        raise ValueError(f"{_shown(cell)} is no day of the calendar") from None
