"""A room has less opening area than the named rule asks.

Why
    Too little opens for the size of the room. What counts differs between rules: some count the
    whole sash whatever its restrictor, others by the angle it opens to. The real free area is
    told beside it.
Wrong
    site: {rules: {ventilation: NCC-2022-HP-10.6.2}}
    rooms:
      studio: {use: assembly, floor_area_m2: 40}      # 2.0 m² asked, two sashes of 0.84 m²
Right
    Add opening area, state openings that no actuator moves, or say that machines supply the air.

        rooms:
          studio: {use: assembly, floor_area_m2: 40, other_openings_m2: 0.4}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import air_rooms
from zonecfg.figures import Figures
from zonecfg.figures.rulings import caveat, rule_named
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.words import figure
from zonecfg.rules import VentilationRule

CHECK = Check(
    "room-opening-area-small",
    "warning",
    source="the rule set named in site.rules.ventilation; each says where its figures were read",
    needs=("rooms", "openings", "actuators", "site"),
    over="rooms",
    scope=air_rooms,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    rule = rule_named(site, "ventilation", VentilationRule)
    if isinstance(rule, Unknown):
        yield rule
        return
    for room in site.rooms.values():
        known = figures.rooms[room.id]
        if room.mechanical_air:
            yield Unknown("machines supply the air (mechanical_air)", (room.id,))
            continue
        if known.required_unknown is not None:
            yield known.required_unknown
            continue
        asked, counted = known.required_area_m2, known.counted_area_m2
        if asked is None or counted is None:
            yield from known.counted_unknown
            continue
        if rule.enough(counted, asked):
            continue
        free = "is not known" if known.free_area_m2 is None else f"is {figure(known.free_area_m2)} m²"
        yield Problem(
            f"rooms/{room.id}",
            site.at("rooms", room.id, "floor_area_m2"),
            f"{room.id} has {figure(counted)} m² of opening area as {rule.id} counts it, and {figure(asked)} m² is "
            f"asked ({rule.bands[0].text}): {figure(asked - counted)} m² more would do; its free area {free}"
            f"{caveat(rule, room.use, secondary=bool(rule.secondary))}",
            size=Size(counted, asked, "m²"),
        )
