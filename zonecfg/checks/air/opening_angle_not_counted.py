"""A sash opens to an angle that the named rule gives no area.

Why
    Some rules count a hinged sash by the angle it opens to, and below the least angle not at all:
    the window is there, and the room has no air by the rule.
Wrong
    site: {rules: {ventilation: ADF-2021-T1.4}}
    actuators:
      A-11: {type: chain-24-350, opening: W-11, stroke_mm: 200}      # 11.5° on a sash of 1000 mm
Right
    Set a stroke that reaches the angle, where falls, hinges and type allow it.

        actuators:
          A-11: {type: chain-24-350, opening: W-11, stroke_mm: 300}
"""

from collections.abc import Iterator
from math import ceil, radians, sin

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.rulings import caveat, rule_named
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.words import beside
from zonecfg.rules import VentilationRule

CHECK = Check(
    "opening-angle-not-counted",
    "warning",
    source="the rule set named in site.rules.ventilation; each says where its figures were read",
    needs=("rooms", "openings", "actuators", "site"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    rule = rule_named(site, "ventilation", VentilationRule)
    if isinstance(rule, Unknown):
        yield rule
        return
    angles = [band.angle_at_least_deg for band in rule.bands if band.angle_at_least_deg is not None]
    if not angles:
        return
    yield from sashless(site)
    for key in site.actuators_of:
        if key not in site.openings:
            continue
        room = site.rooms.get(site.openings[key].room or "")
        if room is not None and (lost := unread(site, "rooms", room.id, "mechanical_air")) is not None:
            yield lost
            continue
        if room is not None and room.mechanical_air:
            yield Unknown("machines supply the air (mechanical_air)", (room.id,))
            continue
        sash = figures.openings[key]
        if sash.opened is None or sash.levers is None:
            if sash.unknown is not None:
                yield sash.unknown
        elif rule.counted_share(sash.opened.angle_deg) == 0:
            least_deg = min(angles)
            least_mm = 2 * sash.levers.radius_mm * sin(radians(least_deg) / 2)
            longest = max(sash.actuators, key=lambda a: site.actuators[a].stroke_mm or 0)
            yield Problem(
                f"openings/{key}",
                site.at("actuators", longest, "stroke_mm"),
                f"{key} opens to {beside(sash.opened.angle_deg, least_deg, 1)}°, and {rule.id} counts nothing under "
                f"{least_deg:g}°; a stroke of {ceil(least_mm - 1e-9)} mm reaches it"
                f"{caveat(rule, room.use if room else None, secondary=bool(rule.secondary))}",
                size=Size(sash.opened.angle_deg, least_deg, "°"),
            )
