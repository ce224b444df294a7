"""The worksheet as one CSV file: a section column, a header, and a line a thing."""

import csv
import io

from zonecfg.sheets.as_text import guarded
from zonecfg.sheets.sheet import Sheet


def render(sheet: Sheet) -> str:
    """Write a worksheet. The byte order mark makes spreadsheets read it as UTF-8."""
    out = io.StringIO()
    out.write("\ufeff")
    writer = csv.DictWriter(out, sheet.form.header, restval="", lineterminator="\r\n")
    writer.writeheader()
    identity = sheet.identity
    keyed = {"key": identity.key} if sheet.form.keyed else {}
    _row(
        writer,
        section="sheet",
        id=sheet.form.format,
        site=identity.site,
        revision=identity.revision,
        note=sheet.name,
        **keyed,
    )
    for kind, notes in (("caution", sheet.advice.cautions), ("step", sheet.advice.steps)):
        for number, note in enumerate(notes, start=1):
            _row(writer, section="note", id=f"{kind} {number}", note=note)
    for section, rows in sheet.tables.items():
        for row in rows:
            _row(writer, section=section, **row)
    return out.getvalue()


def _row(writer: "csv.DictWriter[str]", **cells: str | float | None) -> None:
    writer.writerow({key: guarded(cell) if isinstance(cell, str) else cell for key, cell in cells.items()})
