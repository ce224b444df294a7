"""A filled workbook: its cells as they stand; nothing in them is ever computed."""

import io
from datetime import date, datetime
from typing import Any

from zonecfg.errors import UnreadableSheet
from zonecfg.sheets.columns import Column, FormFor, SheetTable, worksheet_form
from zonecfg.sheets.extra import needed
from zonecfg.sheets.raw import MAX_CELL, Cell, RawCell, RawRow, RawSheet, header_faults, refuse, right_form
from zonecfg.sheets.workbook import Formula, formulas

_LONGEST_EXACT = 1e15


def read(raw: bytes, file: str, form_for: FormFor = worksheet_form) -> RawSheet:
    """Take a workbook apart.

    Raises
    ------
    UnreadableSheet
        It is no worksheet, holds formulas where people fill in, or its columns are not as they went out.
    MissingExtra
        The library that reads workbooks is not installed.
    """
    calamine = needed("python_calamine", "reading an .xlsx worksheet")
    computed = formulas(raw, file)
    found: list[RawRow] = []
    faults: list[str] = []
    identities: dict[tuple[str, ...], str] = {}
    try:
        book = calamine.CalamineWorkbook.from_filelike(io.BytesIO(raw))
        identified = (_identity(_cells(book, name)) for name in book.sheet_names)
        said = next((identity for identity in identified if identity[0].startswith("zonecfg-")), None)
        form = form_for(said[3] if said else "")
        right_form(file, said[0] if said else None, form)
        for table in form.tables.values():
            if table.title in book.sheet_names and table.title in computed:
                cells = _cells(book, table.title)
                identity = _identity(cells)
                identities.setdefault(identity if form.keyed else identity[:3], table.title)
                found += _rows(cells, table, computed[table.title], faults)
            else:
                faults.append(f"{table.title}: the sheet is missing")
    except (calamine.CalamineError, calamine.XmlError, calamine.ZipError) as error:
        raise UnreadableSheet(f"{file}: this is no .xlsx workbook that can be read: {error}") from None
    refuse(file, faults)
    if len(identities) > 1:
        one, other = list(identities.items())[:2]
        raise UnreadableSheet(
            f"{file}: {other[1]}, row 1: is of {' '.join(other[0])}; {one[1]} is of {' '.join(one[0])}; "
            "nothing was recorded"
        )
    form_said, site, revision, *key = next(iter(identities))
    return RawSheet(file, form_said, site, revision, "".join(key), tuple(found))


def _cells(book: Any, name: str) -> list[list[Any]]:
    cells: list[list[Any]] = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
    return cells


def _identity(cells: list[list[Any]]) -> tuple[str, str, str, str]:
    form, site, revision, key, *_ = [*map(_words, cells[0] if cells else ()), "", "", "", ""]
    return form, site, revision, key


def _words(cell: Any) -> str:
    return str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell).strip()


def _rows(cells: list[list[Any]], table: SheetTable, computed: frozenset[Formula], faults: list[str]) -> list[RawRow]:
    titles = [_words(cell) for cell in cells[1]] if len(cells) > 1 else []
    columns = {column.title: column for column in table.columns}
    wrong = header_faults(
        f"{table.title}, row 2", titles, list(columns), [table.columns[0].title, *(c.title for c in table.to_fill)]
    )
    if wrong:
        faults += wrong
        return []
    rows = []
    for number, line in enumerate(cells[2:], start=3):
        thing, filled = "", {}
        for position, (title, cell) in enumerate(zip(titles, line, strict=False), start=1):
            column = columns.get(title)
            if column is None:
                continue
            where = f"{table.title}, row {number}, column {_letters(position)} ({title})"
            if Formula(number, position) in computed:
                faults.append(f"{where}: holds a formula; type the value itself")
            elif column is table.columns[0]:
                thing = _words(cell)
            elif (value := _cell(cell, column, where, faults)) is not None:
                filled[column.key] = RawCell(where, value)
        if thing or filled:
            rows.append(RawRow(table.name, thing, f"{table.title}, row {number}", filled))
    return rows


def _cell(cell: Any, column: Column, where: str, faults: list[str]) -> Cell | None:
    if isinstance(cell, str):
        if len(cell) > MAX_CELL and column.fill:
            faults.append(f"{where}: {len(cell)} characters; {MAX_CELL:,} is the most")
            return None
        return cell.strip() or None
    if isinstance(cell, datetime):
        return cell.date()
    if isinstance(cell, float) and column.fill and column.kind == "text":
        if abs(cell) >= _LONGEST_EXACT or not cell.is_integer():
            faults.append(
                f"{where}: stands there as a number and has lost signs; format the cell as text, type it again"
            )
            return None
        return str(int(cell))
    return cell if isinstance(cell, (bool, int, float, date)) else str(cell)


def _letters(position: int) -> str:
    return chr(64 + position) if position <= 26 else _letters((position - 1) // 26) + chr(65 + (position - 1) % 26)
