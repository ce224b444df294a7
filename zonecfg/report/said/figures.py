"""The figures of a site: a table a section, units in the headings."""

from collections.abc import Iterator

from msgspec import UnsetType

from zonecfg.report.blocks import Block, Heading, Paragraph, Table, Title, items
from zonecfg.report.text_explain import FOOTING
from zonecfg.results.figure import FiguresPage, WorkingLine
from zonecfg.results.words import figure, listed

_UNKNOWN = "–"

# Section, its title, and of each figure: name, heading, unit, decimals (None: as it is).
_Column = tuple[str, str, str, int | None]
_SECTIONS: tuple[tuple[str, str, tuple[_Column, ...]], ...] = (
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
            ("fire_stroke_mm", "in a fire", "mm", 0),
            ("fire_force_per_actuator_n", "force then", "N", 1),
            ("snow_force_per_actuator_n", "with snow", "N", 1),
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
            ("flow_without_wind_m3_s", "no wind", "m³/s", 3),
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


def _tables(page: FiguresPage) -> Iterator[Table]:
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
        return _UNKNOWN
    if isinstance(value, str) or decimals is None:
        return str(value)
    return f"{value:.{decimals}f}" if abs(value) >= 0.5 * 10**-decimals else figure(value, 2)


def blocks(page: FiguresPage) -> Iterator[Block]:
    """Tell the figures of a site, then what they rest on and what could not be computed."""
    state = f" ({page.state})" if page.state and page.state not in page.path else ""
    if isinstance(page.figures.working, dict):
        yield Title(f"Working of {page.path}{state}")
        for thing, lines in page.figures.working.items():
            yield Heading(thing)
            yield items([_worked(line) for line in lines])
        yield Paragraph(FOOTING)
        return
    yield Title(f"Figures of {page.path}{state}")
    yield from _tables(page)
    if page.remarks:
        yield items(list(page.remarks))
    if page.not_computed:
        told = [
            f"{entry.because}{f' ({listed(entry.ids, most=8)})' if entry.ids else ''}" for entry in page.not_computed
        ]
        yield Heading("Not computed")
        yield items(told)
    yield Paragraph(FOOTING)


def _worked(line: WorkingLine) -> str:
    """Write a line of a calculation: what it is, the formula, the numbers in it, what comes out, and whence."""
    name = f"{line.what}, {line.symbol}" if line.symbol else line.what
    if line.result is None:
        return name
    result = f"{line.result:.6g} {line.unit}".rstrip()
    sides = [side for side in (line.formula, line.numbers, result) if side]
    return f"{name} = {' = '.join(sides)} ({line.source})"
