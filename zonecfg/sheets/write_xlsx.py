"""The worksheet as a workbook: locked where the plan speaks, open where people write, ready for A4 paper."""

import io
import re
import zipfile
from datetime import date, datetime
from typing import Any

from zonecfg.sheets.columns import Column, SheetTable
from zonecfg.sheets.extra import needed
from zonecfg.sheets.sheet import Row, Sheet

FIRST_SHEET = "Read first"
_SAME_DAY = datetime(2000, 1, 1)  # noqa: DTZ001  (two runs make one file; no clock in it)
_A4 = 9
_LINE_POINTS = 14
_FIRST_CHARACTERS = 60
"""A little less than fits into a line of the first sheet, whatever font a reader has."""
_OPTIONS = {"strings_to_formulas": False, "strings_to_numbers": False, "strings_to_urls": False, "in_memory": True}
_LINES = {"border": 1, "border_color": "#9aa3ab", "valign": "top", "text_wrap": True, "font_size": 9}
_FORMATS: dict[str, dict[str, Any]] = {
    "title": {"bold": True, "font_size": 14},
    "about": {"font_size": 9, "font_color": "#333333"},
    "caution": {"text_wrap": True, "bold": True, "valign": "top"},
    "step": {"text_wrap": True, "valign": "top"},
    "head": {**_LINES, "bold": True, "bg_color": "#dfe6ea"},
    "head to fill": {**_LINES, "bold": True, "bg_color": "#fff2c4"},
    "told": {**_LINES, "bg_color": "#f4f6f7", "align": "left"},
    "number": {**_LINES, "locked": False, "align": "left"},
    "text": {**_LINES, "locked": False, "num_format": "@"},
    "day": {**_LINES, "locked": False, "num_format": "yyyy-mm-dd", "align": "left"},
}


def render(sheet: Sheet) -> bytes:
    """Write a worksheet.

    Raises
    ------
    MissingExtra
        The library that writes workbooks is not installed.
    """
    xlsxwriter = needed("xlsxwriter", "an .xlsx worksheet")
    out, form = io.BytesIO(), sheet.form
    book = xlsxwriter.Workbook(out, _OPTIONS)
    book.set_properties({"title": f"{sheet.identity.site} {form.name}", "created": _SAME_DAY, "comments": form.format})
    formats = {name: book.add_format(body) for name, body in _FORMATS.items()}
    _first(book.add_worksheet(FIRST_SHEET), sheet, formats)
    for name, rows in sheet.tables.items():
        _table(book.add_worksheet(form.tables[name].title), sheet, form.tables[name], rows, formats)
    book.close()
    return _said_by_us(out.getvalue())


def _said_by_us(written: bytes) -> bytes:
    """Say in the workbook's properties what wrote it; the library says that an office program did."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(written)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            body = old.read(part)
            if part.filename == "docProps/app.xml":
                body = re.sub(rb"<Application>.*?</Application>", b"<Application>zonecfg</Application>", body)
                body = re.sub(rb"<AppVersion>.*?</AppVersion>", b"", body)
            new.writestr(part, body, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _identity(target: Any, sheet: Sheet, row: int, formats: dict[str, Any]) -> None:
    about = sheet.identity
    for column, words in enumerate((sheet.form.format, about.site, about.revision, *filter(None, [about.key]))):
        target.write_string(row, column, words, formats["about"])


def _first(target: Any, sheet: Sheet, formats: dict[str, Any]) -> None:
    _identity(target, sheet, 0, formats)
    _page(target, sheet, landscape=False)
    target.set_column(0, 0, 22)
    target.set_column(1, 1, _FIRST_CHARACTERS + 16)
    revision = f", revision {sheet.identity.revision}" if sheet.identity.revision else ""
    target.write_string(1, 0, f"{sheet.name}, {sheet.identity.site}{revision}", formats["title"])
    target.write_string(2, 0, "Fill the yellow columns. What is not known stays blank.", formats["about"])
    row = 4
    for kind, lines in (("caution", sheet.advice.cautions), ("step", sheet.advice.steps)):
        for number, line in enumerate(lines, start=1):
            target.write_string(row, 0, f"{kind.capitalize()} {number}", formats[kind])
            target.write_string(row, 1, line, formats[kind])
            target.set_row(row, _LINE_POINTS * -(-len(line) // _FIRST_CHARACTERS))
            row += 1
    target.protect()


def _table(target: Any, sheet: Sheet, table: SheetTable, rows: tuple[Row, ...], formats: dict[str, Any]) -> None:
    _identity(target, sheet, 0, formats)
    _page(target, sheet, landscape=True)
    target.freeze_panes(2, 1)
    target.repeat_rows(1)
    target.set_row(1, 40)
    last = max(1 + len(rows), 2)
    for line, row in enumerate(rows, start=2):
        target.set_row(line, _LINE_POINTS * _lines(table, row))
    for number, column in enumerate(table.columns):
        target.set_column(number, number, column.width)
        target.write_string(1, number, column.title, formats["head to fill" if column.fill else "head"])
        style = formats[column.kind if column.kind in ("text", "day") else "number"] if column.fill else formats["told"]
        for line, row in enumerate(rows, start=2):
            value = row.get(column.key)
            if isinstance(value, str):
                target.write_string(line, number, value, style)
            elif value is not None:
                target.write_number(line, number, value, style)
            else:
                target.write_blank(line, number, None, style)
        if column.fill and (rule := _validation(column)):
            target.data_validation(2, number, last, number, rule)
    target.autofilter(1, 0, last, len(table.columns) - 1)
    target.protect("", {"autofilter": True, "format_columns": True, "format_rows": True, "sort": True})


def _lines(table: SheetTable, row: Row) -> int:
    """Lines that the fullest cell of a row takes; two at least, so that a pen finds room."""
    return max(2, *(-(-len(str(row.get(column.key) or "")) // int(column.width)) for column in table.columns))


def _validation(column: Column) -> dict[str, Any] | None:
    """Say what a cell takes; a text cell takes anything."""
    about = {"input_title": column.title[:32], "input_message": column.doc[:255], "error_title": column.title[:32]}
    if column.choices:
        return {
            **about,
            "validate": "list",
            "source": list(column.choices),
            "error_message": f"Choose {' or '.join(column.choices)}, or leave it blank.",
        }
    if column.kind == "day":
        return {
            **about,
            "validate": "date",
            "criteria": "between",
            "minimum": date(2000, 1, 1),
            "maximum": date(2199, 12, 31),
            "error_message": "A day, such as 2026-05-14.",
        }
    if column.kind in ("number", "count"):
        low = column.above if column.least is None else column.least
        return {
            **about,
            "validate": "integer" if column.kind == "count" else "decimal",
            "criteria": "between",
            "minimum": low or 0,
            "maximum": column.most if column.most is not None else 1_000_000,
            "error_message": f"A number{f' of {column.unit}' if column.unit else ''}, without its unit.",
        }
    return None


def _page(target: Any, sheet: Sheet, *, landscape: bool) -> None:
    target.set_paper(_A4)
    if landscape:
        target.set_landscape()
    target.fit_to_pages(1, 0)
    target.set_margins(left=0.4, right=0.4, top=0.7, bottom=0.6)
    revision = f", revision {sheet.identity.revision}" if sheet.identity.revision else ""
    name = f"{sheet.identity.site}{revision}"[:120].replace("&", "&&")
    target.set_header(f"&L{name}&R&A")
    target.set_footer(f"&L{sheet.form.format}&C{sheet.form.footer}&R&P/&N")
