"""A filled CSV worksheet: comma, semicolon or tab between cells, as spreadsheets of different countries save it."""

import codecs
import csv
import io

from zonecfg.errors import UnreadableSheet
from zonecfg.sheets.as_text import unguarded
from zonecfg.sheets.columns import FormFor, worksheet_form
from zonecfg.sheets.raw import MAX_CELL, RawCell, RawRow, RawSheet, header_faults, refuse, right_form


def read(raw: bytes, file: str, form_for: FormFor = worksheet_form) -> RawSheet:
    """Take a CSV sheet apart.

    Raises
    ------
    UnreadableSheet
        It is no such sheet, or its columns or rows are not as they went out.
    """
    rows = _rows(raw, file)
    header = [cell.strip() for cell in rows[0]] if rows else []
    while header and not header[-1]:
        header.pop()
    lines = (dict(zip(header, cells, strict=False)) for cells in rows[1:])
    said = next((line for line in lines if line.get("section", "").strip() == "sheet"), None)
    form = form_for(said.get("key", "").strip() if said else "")
    right_form(file, said.get("id", "").strip() if said else None, form)
    to_fill = dict.fromkeys(c.key for table in form.tables.values() for c in table.to_fill)
    refuse(file, header_faults("row 1", header, list(form.header), [*form.about[:-1], *to_fill]))
    found, faults = [], []
    identity = {"id": "", "site": "", "revision": "", "key": ""}
    for number, cells in enumerate(rows[1:], start=2):
        if len(cells) > len(header) and any(cell.strip() for cell in cells[len(header) :]):
            faults.append(f"row {number}: {len(cells)} cells where the header has {len(header)}")
            continue
        row = {key: unguarded(cell.strip()) for key, cell in zip(header, cells, strict=False) if cell.strip()}
        section = row.pop("section", "")
        if section == "sheet":
            identity = {key: row.get(key, "") for key in identity}
        elif section in form.tables:
            found.append(_row(section, row, header, number))
            faults += [
                f"row {number}, column {key}: {len(cell)} characters; {MAX_CELL:,} is the most"
                for key, cell in row.items()
                if len(cell) > MAX_CELL and key in to_fill
            ]
        elif section != "note" and row:
            known = ", ".join(form.tables)
            faults.append(f"row {number}, column section: {section[:40] or 'nothing'} is none of {known}")
    refuse(file, faults)
    return RawSheet(file=file, format=identity.pop("id"), rows=tuple(found), **identity)


def _row(section: str, row: dict[str, str], header: list[str], number: int) -> RawRow:
    thing = row.pop("id", "")
    cells = {key: RawCell(f"row {number}, column {key}", cell) for key, cell in row.items() if key in header}
    return RawRow(section, thing, f"row {number}", cells)


def _rows(raw: bytes, file: str) -> list[list[str]]:
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise UnreadableSheet(f"{file}: this is UTF-16; save it as CSV in UTF-8")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = raw[: error.start].count(b"\n") + 1
        raise UnreadableSheet(
            f"{file}: row {row}: byte {raw[error.start]:#04x} is not UTF-8; save it as CSV UTF-8"
        ) from None
    first = text.split("\n", 1)[0]
    separator = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    rows: list[list[str]] = []
    try:
        rows.extend(reader)
    except csv.Error as error:
        raise UnreadableSheet(f"{file}: row {len(rows) + 1}: this is not CSV: {error}") from None
    return rows
