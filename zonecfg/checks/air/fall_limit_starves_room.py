"""The largest stroke the fall rule allows cannot give a room the area the ventilation rule asks.

Why
    Two rules pull at one window. A rule may still count the whole sash, whatever restricts it;
    the air that really comes in is another matter, and somebody should know before the room is
    built.
Wrong
    site: {rules: {falls: NCC-2022-D3D29, ventilation: NCC-2022-HP-10.6.2}}
    openings:
      W-11: {type: bedroom-900, room: guest-1, sill_mm: 800, drop_mm: 3100}      # 124 mm at most
Right
    Fit a guard screen and open wider, add openings where nobody can fall, or supply air by machine.

        openings:
          W-11: {type: bedroom-900, room: guest-1, sill_mm: 800, drop_mm: 3100, screen: guard}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import air_rooms
from zonecfg.figures import Figures
from zonecfg.figures.fall_limit import at_fall_limit
from zonecfg.figures.rulings import caveat, rule_named
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.words import figure, listed
from zonecfg.rules import VentilationRule

CHECK = Check(
    "fall-limit-starves-room",
    "note",
    source="the rule sets named in site.rules.falls and site.rules.ventilation",
    needs=("rooms", "openings", "actuators", "site"),
    over="rooms",
    scope=air_rooms,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong: the real free area counts, and what the ventilation rule counts by angle."""
    rule, falls = rule_named(site, "ventilation", VentilationRule), figures.falls
    if isinstance(rule, Unknown) or isinstance(falls, Unknown):
        yield from (reason for reason in (rule, falls) if isinstance(reason, Unknown))
        return
    for key, room in figures.rooms.items():
        asked = room.required_area_m2
        if site.rooms[key].mechanical_air:
            continue
        if site.unknown and room.free_unknown:
            yield from room.free_unknown
            continue
        limit = at_fall_limit(site, key, room, figures.openings, falls, rule)
        if limit is None:
            continue
        if isinstance(limit, Unknown):
            yield limit
        elif room.required_unknown is not None:
            yield room.required_unknown
        elif asked is not None and not rule.enough(min(limit.free_m2, limit.counted_m2), asked):
            fall = falls[limit.openings[0]]
            strokes = listed(f"{opening} {falls[opening].largest_stroke_mm} mm" for opening in limit.openings)
            yield Problem(
                f"rooms/{key}",
                site.at("rooms", key, "floor_area_m2"),
                f"in {key} {fall.rule.id} allows {strokes} of stroke, which frees {figure(limit.free_m2)} m² in all; "
                f"{rule.id} asks for {figure(asked)} m², and then counts {figure(limit.counted_m2)} m²"
                f"{fall.caveat('sphere_mm')}{caveat(rule, site.rooms[key].use, secondary=bool(rule.secondary))}",
                subjects=(f"rooms/{key}", *(f"openings/{opening}" for opening in limit.openings)),
                size=Size(min(limit.free_m2, limit.counted_m2), asked, "m²"),
            )
