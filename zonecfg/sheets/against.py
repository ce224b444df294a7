"""What was found on site that the plan has otherwise. It is told, never corrected: the site is right about itself."""

from collections.abc import Iterator, Mapping
from datetime import date

from zonecfg.figures import Figures
from zonecfg.results.words import listed
from zonecfg.sheets.filled import FilledSheet, FilledValue
from zonecfg.sheets.sheet import expected_ohm

_MM, _SHARE = 5.0, 0.05  # a rule read in a draughty window: common practice
_BUS_SHARE = 0.15  # as in bus-resistance-off


def against_plan(figures: Figures, found: FilledSheet, today: date) -> Iterator[str]:
    """Give each value that contradicts the plan or the calendar, in words."""
    meant = {
        (section, labelled.serial): labelled.id
        for section in ("actuators", "sensors", "controllers")
        for labelled in getattr(figures.site, section).values()
    }
    for (section, thing), values in found.by_thing.items():
        yield from _labels(figures, section, thing, values, meant)
        yield from _tests(thing, values)
        if section == "actuators":
            yield from _actuator(figures, thing, values)
        elif section == "controllers":
            yield from _controller(figures, thing, values)
    later: dict[str, list[str]] = {}
    for entry in found.entries:
        if entry.key == "date" and str(entry.value) > today.isoformat():
            later.setdefault(str(entry.value), []).append(entry.thing)
    for day, things in later.items():
        yield f"{listed(things)}: tested on {day}, and today is {today.isoformat()}"


def _labels(
    figures: Figures, section: str, thing: str, values: dict[str, FilledValue], meant: Mapping[tuple[str, str], str]
) -> Iterator[str]:
    site = figures.site
    for key in ("serial", "firmware"):
        entry = values.get(key)
        planned = getattr(getattr(site, section)[thing], key, None) if entry else None
        owner = meant.get((section, str(entry.value))) if entry and key == "serial" else None
        if entry and planned is None and owner not in (None, thing):
            yield f"{thing}: {key} {entry.value}; the plan has it for {owner}"
        if entry and planned is not None and planned != entry.value:
            other = f", and {entry.value} for {owner}" if owner else ""
            yield f"{thing}: {key} {entry.value}; the plan has {planned}{other}"


def _tests(thing: str, values: dict[str, FilledValue]) -> Iterator[str]:
    for entry in values.values():
        if entry.value == "fail":
            yield f"{thing}: {entry.key.replace('_', ' ')} failed"
        elif entry.key == "calibrated" and entry.value is False:
            yield f"{thing}: not calibrated"


def _actuator(figures: Figures, thing: str, values: dict[str, FilledValue]) -> Iterator[str]:
    actuator = figures.site.actuators[thing]
    opening = figures.openings.get(actuator.opening or "")
    gap = None if opening is None or opening.opened is None else opening.opened.gap_mm
    for key, what, planned in (
        ("measured_stroke_mm", "stroke", actuator.stroke_mm),
        ("measured_gap_mm", "gap", gap),
    ):
        measured = _figure(values, key)
        if measured is not None and planned is not None and abs(measured - planned) > max(_MM, _SHARE * planned):
            says = "is set" if what == "stroke" else "is what the set stroke gives"
            yield f"{thing}: measured {what} {measured:g} mm; {planned:.0f} mm {says}"
    volt = _figure(values, "voltage_moving_v")
    if volt is not None and actuator.voltage_min_v is not None and volt < actuator.voltage_min_v:
        yield f"{thing}: {volt:g} V while moving; it needs {actuator.voltage_min_v:g} V"


def _controller(figures: Figures, thing: str, values: dict[str, FilledValue]) -> Iterator[str]:
    counted, planned = _figure(values, "actuators_counted"), len(figures.topology.actuators_on.get(thing, ()))
    if counted is not None and counted != planned:
        yield f"{thing}: counted {counted:g} actuators; the plan gives it {planned}"
    ohm, expected = _figure(values, "bus_ohm"), expected_ohm(figures, thing)
    if ohm is not None and expected is not None and abs(ohm - expected) > _BUS_SHARE * expected:
        yield f"{thing}: {ohm:g} Ω across the bus; {expected:.0f} Ω is right"


def _figure(values: dict[str, FilledValue], key: str) -> float | None:
    entry = values.get(key)
    return float(entry.value) if entry is not None and not isinstance(entry.value, str) else None
