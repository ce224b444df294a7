"""A smoke vent takes longer than a minute to its smoke stroke.

Why
    Smoke fills a stair in the first minutes. The standard for smoke vents asks that they stand
    open a minute after the command; a controller that moves some sashes at a time adds a queue.
Wrong
    types:
      actuators:
        chain-24-500: {kind: chain, stroke_max_mm: 500, thrust_n: 300, speed_mm_s: 5}
    openings:
      SV-1: {type: vent, room: stair, smoke_vent: true, smoke_stroke_mm: 500}      # 100 s
Right
    Take a faster type, one that goes faster on a fire command, or move more vents at once then.

        types:
          actuators:
            chain-24-500: {kind: chain, stroke_max_mm: 500, speed_mm_s: 5, speed_fire_mm_s: 10}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import vents
from zonecfg.engineering.motion import queue, travel_time
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, undeclared, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

LONGEST_S = 60.0

CHECK = Check(
    "smoke-vent-slow",
    "warning",
    source="EN 12101-2: open within 60 s of the command; from memory, open the standard before relying on it",
    needs=("openings", "actuators", "controllers", "cables", "groups"),
    over="openings",
    scope=vents,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    yield from undeclared(site, "smoke_vent")
    durations: dict[str | None, dict[str, float]] = {}
    for opening in site.openings.values():
        if lost := unread(site, "openings", opening.id, "smoke_vent", "smoke_stroke_mm", "fire_stroke_mm"):
            yield lost
        if not opening.smoke_vent or not site.actuators_of.get(opening.id):
            continue
        stroke = opening.fire_stroke_mm or opening.smoke_stroke_mm
        if stroke is None:
            yield Unknown("smoke_stroke_mm is not given", (opening.id,))
            continue
        movers = [site.actuators[a] for a in site.actuators_of[opening.id]]
        if lost := next((u for a in movers if (u := unread(site, "actuators", a.id, "speed_fire_mm_s"))), None):
            yield lost
            continue
        speeds = {a.id: a.speed_fire_mm_s or a.speed_mm_s for a in movers}
        if silent := tuple(a for a, speed in speeds.items() if speed is None):
            yield Unknown("speed_mm_s of the actuator is not given", silent)
            continue
        slowest = min(speed for speed in speeds.values() if speed is not None)
        home = figures.topology.controller_of_actuator.get(movers[0].id)
        durations.setdefault(home, {})[opening.id] = travel_time(stroke, slowest)
    for home, taken in durations.items():
        controller = site.controllers.get(home or "")
        at_once = None if controller is None else controller.fire_moves_at_once or controller.moves_at_once
        if home and (lost := unread(site, "controllers", home, "fire_moves_at_once", "moves_at_once")):
            yield lost
            continue
        for key in sorted(taken):
            before = [taken[other] for other in sorted(taken) if other != key]
            last = queue([*before, taken[key]], at_once).finishes_s[-1]
            if last > LONGEST_S * (1 + 1e-9):
                waits = last - taken[key]
                queued = f", {waits:.0f} s of it in the queue of {home}" if waits > 0 else ""
                yield Problem(
                    f"openings/{key}",
                    site.at("openings", key, "smoke_vent"),
                    f"{key} stands open {last:.0f} s after the fire command{queued}; {LONGEST_S:g} s is the most "
                    "(EN 12101-2, from memory)",
                    size=Size(last, LONGEST_S, "s"),
                )
