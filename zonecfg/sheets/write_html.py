"""The worksheet as one page for a phone: filled without a network, kept by the browser, handed back as a file."""

import io
from importlib.resources import files
from typing import Any

from zonecfg.sheets.extra import needed
from zonecfg.sheets.sheet import Row, Sheet

_TEMPLATE = "worksheet.html.j2"


def render(sheet: Sheet) -> str:
    """Write a worksheet.

    Raises
    ------
    MissingExtra
        A library that pages or QR codes need is not installed.
    """
    jinja2 = needed("jinja2", "an .html worksheet")
    segno = needed("segno", "an .html worksheet")
    environment = jinja2.Environment(
        autoescape=True, trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined
    )
    template = environment.from_string(files("zonecfg.sheets").joinpath(_TEMPLATE).read_text("utf-8"))
    page: str = template.render(
        form=sheet.form,
        identity=sheet.identity,
        name=sheet.name,
        advice=sheet.advice,
        tables=[(sheet.form.tables[name], _headed(rows)) for name, rows in sheet.tables.items()],
        steps_of=[column for table in sheet.form.tables.values() for column in table.to_fill if column.step],
        labels=[
            (row["id"], jinja2_safe(jinja2, qr(segno, str(row["id"])))) for row in sheet.tables.get("actuators", ())
        ],
    )
    return page + "\n"


def qr(segno: Any, text: str) -> str:
    """Draw a QR code as SVG that stands in a page."""
    out = io.BytesIO()
    # Any mask can be read; trying all eight for the prettiest takes six times as long as all the rest.
    code = segno.make(text, error="m", micro=False, boost_error=False, mask=3)
    code.save(out, kind="svg", xmldecl=False, svgns=False, nl=False, border=4, omitsize=True, svgclass="qr")
    return out.getvalue().decode()


def jinja2_safe(jinja2: Any, svg: str) -> Any:
    """Mark a drawing of our own as markup: it holds no word of a plan."""
    return jinja2.utils.markupsafe.Markup(svg)


def _headed(rows: tuple[Row, ...]) -> list[tuple[str, Row]]:
    """Give each row the heading that begins at it: storey and room, where they change."""
    found, last = [], ""
    for row in rows:
        storey, room = row.get("storey"), row.get("room")
        here = " · ".join(part for part in (f"Storey {storey}" if storey is not None else "", str(room or "")) if part)
        found.append((here if here != last else "", row))
        last = here
    return found
