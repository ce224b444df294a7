"""The opening area of every room: what is really free, what a rule counts, what it asks, and the air that flows."""

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from math import fsum, radians, sin

from msgspec import Struct

from zonecfg.engineering.air_flow import single_sided_flow
from zonecfg.figures.exposure import pitch_of
from zonecfg.figures.openings import OpeningFigures
from zonecfg.figures.rulings import rule_named
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.building import Room
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown
from zonecfg.rules import VentilationRule

Counts = Callable[[float, float, float | None], float | None]
"""What a rule counts of a sash [m²]: its width and height [mm], and the angle it opens to [deg]."""


class RoomFigures(Struct, frozen=True, kw_only=True, gc=False):
    """The figures of one room; where one is None the tuple beside it says what is missing.

    ``openings`` are those an actuator moves. ``other_openings_m2`` is in the free and in the counted area.
    """

    openings: tuple[str, ...]
    floor_area_m2: float | None
    free_area_m2: float | None
    free_unknown: tuple[Unknown, ...]
    counted_area_m2: float | None
    counted_unknown: tuple[Unknown, ...]
    required_area_m2: float | None
    required_unknown: Unknown | None
    flow_m3_s: float | None
    still_m3_s: float | None
    """The same without wind: what the difference of temperatures drives alone."""
    flow_unknown: Unknown | None


def room_figures(site: Site, openings: Mapping[str, OpeningFigures]) -> Mapping[str, RoomFigures]:
    """Compute the figures of every room."""
    rule = rule_named(site, "ventilation", VentilationRule)
    counts = None if isinstance(rule, Unknown) else lru_cache(None)(rule.counted_area_m2)
    moved: dict[str, list[str]] = {}
    for opening in site.actuators_of:
        if opening in site.openings and (room := site.openings[opening].room) is not None:
            moved.setdefault(room, []).append(opening)
    return {
        room.id: _figures_of(site, room, tuple(moved.get(room.id, ())), openings, rule, counts)
        for room in site.rooms.values()
    }


def _figures_of(
    site: Site,
    room: Room,
    ids: tuple[str, ...],
    openings: Mapping[str, OpeningFigures],
    rule: VentilationRule | Unknown,
    counts: Counts | None,
) -> RoomFigures:
    other = room.other_openings_m2 or 0.0
    lost = unread(site, "rooms", room.id, "other_openings_m2") or _homeless(site)
    areas = [opened.free_m2 for o in ids if (opened := openings[o].opened) is not None]
    free_unknown = _reasons([lost, *(openings[o].unknown for o in ids)])
    counted, lacks = (0.0, [rule]) if counts is None else _counted(site, ids, openings, counts)
    counted_unknown = _reasons([lost, *lacks])
    required, required_unknown = None, unread(site, "rooms", room.id, "floor_area_m2", "mechanical_air")
    if isinstance(rule, Unknown):
        required_unknown = rule
    elif room.floor_area_m2 is None:
        required_unknown = required_unknown or Unknown("floor_area_m2 is not given", (room.id,))
    else:
        required = rule.required_area_m2(room.floor_area_m2)
    flow, still, flow_unknown = _flow(site, ids, openings, free_unknown)
    return RoomFigures(
        openings=ids,
        floor_area_m2=room.floor_area_m2,
        free_area_m2=None if free_unknown else sum(areas) + other,
        free_unknown=free_unknown,
        counted_area_m2=None if counted_unknown else counted + other,
        counted_unknown=counted_unknown,
        required_area_m2=required,
        required_unknown=required_unknown,
        flow_m3_s=flow,
        still_m3_s=still,
        flow_unknown=flow_unknown,
    )


def _homeless(site: Site) -> Unknown | None:
    """Say what may belong to any room: openings whose room, and actuators whose opening, could not be read."""
    if not site.unknown:
        return None
    if "openings" in site.unknown or "actuators" in site.unknown:
        return Unknown("openings or actuators could not be read")
    roomless = tuple(o.id for o in site.openings.values() if o.room is None)
    if roomless:
        return Unknown("it is not known which room they serve", roomless)
    return next(sashless(site), None)


def _reasons(found: Iterable[Unknown | None]) -> tuple[Unknown, ...]:
    return tuple(dict.fromkeys(reason for reason in found if reason is not None))


def _counted(
    site: Site, ids: tuple[str, ...], openings: Mapping[str, OpeningFigures], counts: Counts
) -> tuple[float, list[Unknown | None]]:
    """Sum what the rule counts; a rule that counts by angle needs the geometry, any other only the size."""
    total = 0.0
    lacks: list[Unknown | None] = []
    for opening_id in ids:
        figures, opening = openings[opening_id], site.openings[opening_id]
        angle = None if figures.opened is None else figures.opened.angle_deg
        if opening.width_mm is None or opening.height_mm is None:
            lacks.append(Unknown("width_mm or height_mm of the sash is not given", (opening_id,)))
        elif (area := counts(opening.width_mm, opening.height_mm, angle)) is not None:
            total += area
        else:
            lacks.append(figures.unknown)
    return total, lacks


def _flow(
    site: Site, ids: tuple[str, ...], openings: Mapping[str, OpeningFigures], unknown: tuple[Unknown, ...]
) -> tuple[float | None, float | None, Unknown | None]:
    """Air through the motorised openings, each for itself as if it were the room's only one: in wind, and without.

    The wind is the mean for ventilation, never the gust that forces are computed for: air that only comes in a gale is
    none. An insect screen leaves its share of the area; what share is not stated is not known.
    """
    info = site.info
    if info.indoor_c is None or info.outdoor_c is None:
        lacks = [name for name in ("outdoor_c", "indoor_c") if getattr(info, name) is None]
        several = "is" if len(lacks) == 1 else "are"
        return None, None, Unknown(f"site.{' and site.'.join(lacks)} {several} not given")
    if unknown:
        return None, None, unknown[0]
    windy, still = [], []
    for opening_id in ids:
        opened, opening = openings[opening_id].opened, site.openings[opening_id]
        if opened is None or opening.height_mm is None:
            continue
        share = 1.0
        if opening.screen == "insect":
            if opening.screen_free_percent is None:
                return None, None, Unknown("screen_free_percent of the insect screen is not given", (opening_id,))
            share = opening.screen_free_percent / 100
        height = opening.height_mm / 1000 * sin(radians(pitch_of(opening)))
        area = opened.equivalent_m2 * share
        still.append(single_sided_flow(area, height, 0.0, info.indoor_c, info.outdoor_c))
        if info.ventilation_wind_m_s is not None:
            windy.append(single_sided_flow(area, height, info.ventilation_wind_m_s, info.indoor_c, info.outdoor_c))
    if info.ventilation_wind_m_s is None:
        return None, fsum(still), Unknown("site.ventilation_wind_m_s is not given")
    return fsum(windy), fsum(still), None
