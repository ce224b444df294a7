"""What must be said beside the figures: what they rest on, and why some are missing."""

from collections.abc import Iterator

from zonecfg.figures import Figures
from zonecfg.figures.bus import Bus
from zonecfg.figures.exposure import WALL_PITCH, pitch_of
from zonecfg.figures.rulings import caveat, of_buildings, rule_named
from zonecfg.results.figure import NotComputed
from zonecfg.results.finding import Unknown
from zonecfg.results.words import listed
from zonecfg.rules import VentilationRule


def remarks(figures: Figures) -> tuple[str, ...]:
    """Say what the figures rest on, one sentence a thing."""
    return tuple(_of_sashes(figures)) + tuple(_of_rooms(figures)) + tuple(_of_power(figures))


def _of_sashes(figures: Figures) -> Iterator[str]:
    site = figures.site
    moved = [(site.openings[key], known) for key, known in figures.openings.items() if known.forces is not None]
    if moved:
        yield f"Forces: the largest of the whole travel, in a gust of {site.info.wind_m_s:g} m/s, on each actuator."
    told = (
        ("mass estimated from the glass", [o.id for o, known in moved if known.mass_estimated]),
        ("no seal given, so counted as 0", [o.id for o, _ in moved if o.seal_n_per_m is None]),
        ("no friction given, so counted as 0", [o.id for o, _ in moved if o.friction_n is None and o.stays != "none"]),
        (
            "snow is not included",
            [o.id for o, known in moved if pitch_of(o) < WALL_PITCH and known.snow_forces is None],
        ),
    )
    for what, ids in told:
        if ids:
            yield f"Forces: {what} ({listed(ids)})."


def _of_rooms(figures: Figures) -> Iterator[str]:
    site, rule = figures.site, rule_named(figures.site, "ventilation", VentilationRule)
    if not isinstance(rule, Unknown):
        quoted = caveat(rule, None, secondary=bool(rule.secondary))
        yield f"Counted as {rule.id} does: {rule.counted}; asked: {rule.bands[0].text}{quoted}."
        if beyond := [room.id for room in site.rooms.values() if rule.beyond_uses(room.use)]:
            go = "goes" if len(beyond) == 1 else "go"
            yield f"{rule.id} is written for {of_buildings(rule)}; {listed(beyond)} {go} beyond that."
    info = site.info
    if info.indoor_c is not None and info.outdoor_c is not None:
        wind = info.ventilation_wind_m_s
        mean = "no mean wind is given" if wind is None else f"a mean wind of {wind:g} m/s, and none"
        yield (
            f"Flow: {info.indoor_c:g} °C inside, {info.outdoor_c:g} °C outside, {mean}; each motorised opening "
            "as if it were the only one of its room."
        )


def _of_power(figures: Figures) -> Iterator[str]:
    supplies = figures.power.supplies.items()
    only = [key for key, supply in supplies if supply.running_only and supply.peak_a is not None]
    if only:
        yield f"Peak of {listed(only)}: running current only, because a type gives no peak_a."


def not_computed(figures: Figures) -> tuple[NotComputed, ...]:
    """Say why figures are null: one entry a reason, its ids gathered."""
    reasons: dict[str, dict[str, None]] = {}
    for unknown in _unknown(figures):
        reasons.setdefault(unknown.because, {}).update(dict.fromkeys(unknown.ids))
    return tuple(NotComputed(because, tuple(ids)) for because, ids in reasons.items())


def _unknown(figures: Figures) -> Iterator[Unknown]:
    site = figures.site
    for opening in figures.openings.values():
        yield from (
            reason for reason in (opening.unknown, opening.force_unknown, opening.fire_unknown) if reason is not None
        )
    for room in figures.rooms.values():
        yield from (*room.free_unknown, *room.counted_unknown)
        asked = site.info.indoor_c is not None or site.info.outdoor_c is not None
        yield from (r for r in (room.required_unknown, room.flow_unknown if asked else None) if r is not None)
    for actuator in site.actuators.values():
        if isinstance(volt := figures.power.voltage(actuator.id), Unknown):
            yield volt
        lacks = [name for name in ("stroke_mm", "speed_mm_s") if getattr(actuator, name) is None]
        if lacks:
            yield Unknown(f"{' and '.join(lacks)} {'is' if len(lacks) == 1 else 'are'} not given", (actuator.id,))
    yield from (supply.unknown for supply in figures.power.supplies.values() if supply.unknown is not None)
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
    for bus in figures.buses.all:
        yield from _of_bus(bus)
    for key, sensor in figures.sensors.items():
        if sensor.because is not None:
            yield Unknown(sensor.because, (key,))


def _of_bus(bus: Bus) -> Iterator[Unknown]:
    yield from (value for value in (bus.length_m, bus.unit_loads) if isinstance(value, Unknown))
