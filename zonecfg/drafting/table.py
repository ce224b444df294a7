"""A schedule's cells as they stand, of a CSV file or a workbook; nothing in them is ever computed."""

import csv
import io
from pathlib import PurePath
from typing import Any

from msgspec import Struct

from zonecfg.errors import UnreadableSheet
from zonecfg.sheets.extra import needed
from zonecfg.sheets.workbook import formulas

MOST_ROWS = 20_000
MOST_CELLS = 2_000_000
_WIDEST = 200


class ScheduleRow(Struct, frozen=True):
    """One row: its number as a spreadsheet counts it, and its cells as text."""

    number: int
    cells: tuple[str, ...]


class ScheduleSheet(Struct, frozen=True):
    """One sheet of a schedule."""

    name: str
    lines: tuple[ScheduleRow, ...]


def sheets(raw: bytes, file: str) -> list[ScheduleSheet]:
    """Read every sheet of a schedule.

    Raises
    ------
    UnreadableSheet
        It is no CSV file or workbook that can be read, holds formulas, or is larger than a schedule can be.
    MissingExtra
        The library that reads workbooks is not installed.
    """
    kind = PurePath(file).suffix.lower()
    if kind == ".csv":
        return [ScheduleSheet("", _of_csv(raw, file))]
    if kind in (".xlsx", ".ods"):
        return _of_workbook(raw, file, kind)
    raise UnreadableSheet(f"{file}: a schedule is .csv, .xlsx or .ods")


def _of_csv(raw: bytes, file: str) -> tuple[ScheduleRow, ...]:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = raw[: error.start].count(b"\n") + 1
        raise UnreadableSheet(f"{file}: row {row} is not UTF-8; save it as CSV UTF-8") from None
    if "\0" in text:
        raise UnreadableSheet(f"{file}: this is no text")
    head = text.split("\n", 1)[0].strip()
    told = head.lower().startswith("sep=") and len(head) == len("sep=") + 1
    sample = "\n".join(text.split("\n", 12)[:12])
    separator = head[-1] if told else max(",;\t", key=sample.count)
    found: list[ScheduleRow] = []
    try:
        for number, cells in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True), 1):
            if not (told and number == 1):
                _add(found, number, cells, file)
    except csv.Error as error:
        raise UnreadableSheet(f"{file}: row {len(found) + 1}: this is not CSV: {error}") from None
    return tuple(found)


def _of_workbook(raw: bytes, file: str, kind: str) -> list[ScheduleSheet]:
    calamine = needed("python_calamine", f"reading an {kind} schedule")
    computed = {name for name, held in formulas(raw, file).items() if held} if kind == ".xlsx" else set()
    try:
        book = calamine.CalamineWorkbook.from_filelike(io.BytesIO(raw))
        found = []
        for name in book.sheet_names:
            lines: list[ScheduleRow] = []
            for number, cells in enumerate(book.get_sheet_by_name(name).to_python(skip_empty_area=False), 1):
                _add(lines, number, [_text(cell) for cell in cells], file)
            found.append(ScheduleSheet(name, tuple(lines)))
    except (calamine.CalamineError, calamine.XmlError, calamine.ZipError) as error:
        raise UnreadableSheet(f"{file}: this is no {kind} workbook that can be read: {error}") from None
    if computed:
        raise UnreadableSheet(f"{file}: {min(computed)} holds formulas; save the values and draft again")
    return found


def _add(found: list[ScheduleRow], number: int, cells: list[str], file: str) -> None:
    if len(found) >= MOST_ROWS or len(cells) > MOST_CELLS // max(number, 1):
        raise UnreadableSheet(f"{file}: more than {MOST_ROWS:,} rows or {MOST_CELLS:,} cells; no schedule is as large")
    found.append(ScheduleRow(number, tuple(cell.strip()[:300] for cell in cells[:_WIDEST])))


def _text(cell: Any) -> str:
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return f"{cell:.10g}"
    return str(cell)
