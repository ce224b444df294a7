"""The figures of a site as text: a table a section, units in the headings."""

from collections.abc import Iterator, Sequence

from msgspec import Struct, UnsetType

from zonecfg.report.style import Style
from zonecfg.report.text_explain import FOOTING
from zonecfg.results.figure import FiguresPage
from zonecfg.results.signs import printable
from zonecfg.results.words import figure, listed

_EDGE = "  "
UNKNOWN = "–"

# Section, its title, and of each figure: name, heading, unit, decimals (None: as it is).
Column = tuple[str, str, str, int | None]
_SECTIONS: tuple[tuple[str, str, tuple[Column, ...]], ...] = (
    (
        "openings",
        "Openings",
        (
            ("stroke_mm", "stroke", "mm", 0),
            ("angle_deg", "angle", "°", 1),
            ("gap_mm", "gap", "mm", 0),
            ("free_area_m2", "free", "m²", 3),
            ("equivalent_area_m2", "equivalent", "m²", 3),
            ("sash_area_m2", "sash", "m²", 3),
            ("force_per_actuator_n", "force each", "N", 1),
            ("actuators", "actuators", "", None),
        ),
    ),
    (
        "rooms",
        "Rooms",
        (
            ("free_area_m2", "free", "m²", 3),
            ("counted_area_m2", "counted", "m²", 3),
            ("required_area_m2", "asked", "m²", 3),
            ("floor_area_m2", "floor", "m²", 1),
            ("flow_m3_s", "flow", "m³/s", 3),
        ),
    ),
    (
        "actuators",
        "Actuators",
        (("voltage_at_peak_v", "lowest voltage", "V", 1), ("travel_s", "whole stroke", "s", 0)),
    ),
    (
        "supplies",
        "Supplies",
        (("peak_a", "peak", "A", 2), ("output_a", "can give", "A", 1), ("peak_event", "when", "", None)),
    ),
    ("controllers", "Controllers", (("bus_length_m", "bus", "m", 1), ("bus_unit_loads", "bus load", "unit loads", 2))),
    (
        "sensors",
        "Sensors",
        (
            ("groups", "groups", "", None),
            ("actuators", "actuators", "", None),
            ("last_settled_s", "all still after", "s", 0),
        ),
    ),
)


class Table(Struct, frozen=True):
    """A section: its title, the heading of each column with its unit, and a row a thing, the id first."""

    title: str
    headings: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, ...], ...]


def tables(page: FiguresPage) -> Iterator[Table]:
    """Give the figures as tables of text; a section without things, and a column nothing is asked of, are left out."""
    for name, title, columns in _SECTIONS:
        things = getattr(page.figures, name)
        shown = [c for c in columns if any(not isinstance(getattr(t, c[0]), UnsetType) for t in things.values())]
        if things:
            yield Table(
                title,
                tuple((heading, unit) for _, heading, unit, _ in shown),
                tuple(
                    (key, *(_cell(getattr(thing, field), decimals) for field, _, _, decimals in shown))
                    for key, thing in things.items()
                ),
            )


def _cell(value: float | str | UnsetType | None, decimals: int | None) -> str:
    if value is None or isinstance(value, UnsetType):
        return UNKNOWN
    if isinstance(value, str) or decimals is None:
        return str(value)
    return f"{value:.{decimals}f}" if abs(value) >= 0.5 * 10**-decimals else figure(value, 2)


def lines(page: FiguresPage, style: Style) -> Iterator[str]:
    """Tell the figures of a site, then what they rest on and what could not be computed."""
    state = f" ({page.state})" if page.state and page.state not in page.path else ""
    yield style.paint(printable(f"{page.path}{state}"), "strong")
    for table in tables(page):
        yield ""
        yield from _table_lines(table, style)
    yield ""
    for remark in page.remarks:
        yield from style.wrapped(printable(remark), "", _EDGE)
    if page.not_computed:
        yield ""
        yield style.paint("Not computed", "strong")
        for entry in page.not_computed:
            about = f" ({listed(entry.ids, most=8)})" if entry.ids else ""
            yield from style.wrapped(printable(f"{entry.because}{about}"), _EDGE, _EDGE * 2)
    yield ""
    yield from style.wrapped(FOOTING)


def _table_lines(table: Table, style: Style) -> Iterator[str]:
    rows = [[printable(cell) for cell in row] for row in table.rows]
    heads = [("", ""), *table.headings]
    widths = [max(map(len, (*head, *(row[place] for row in rows)))) for place, head in enumerate(heads)]
    yield style.paint(table.title, "strong")
    for line in zip(*heads, strict=True):
        if any(line):
            yield style.paint(_line(line, widths, rows[0]), "faint")
    for row in rows:
        yield _line(row, widths, rows[0])


def _line(cells: Sequence[str], widths: Sequence[int], like: Sequence[str]) -> str:
    """Ids and the last column of words stand left, figures right."""
    words = len(cells) - 1 if like[-1][:1].isalpha() else -1
    padded = [
        cell.ljust(width) if place in (0, words) else cell.rjust(width)
        for place, (cell, width) in enumerate(zip(cells, widths, strict=True))
    ]
    return (_EDGE + _EDGE.join(padded)).rstrip()
