"""A smoke vent is set to less than the stroke that the fire strategy asks.

Why
    A controller opens a vent to the stroke that is set, on a fire command too, unless it has a
    stroke of its own for that.
Wrong
    openings:
      SV-1: {type: vent, room: stair, smoke_vent: true, smoke_stroke_mm: 500}
    actuators:
      A-1: {type: chain-24-500, opening: SV-1, stroke_mm: 200}
Right
    Set the stroke asked, or state what the fire command opens to.

        openings:
          SV-1: {type: vent, room: stair, smoke_stroke_mm: 500, fire_stroke_mm: 500}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import vents
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, undeclared, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "smoke-stroke-not-reached",
    "error",
    source="the fire strategy, as far as the plan states it",
    needs=("openings", "actuators"),
    over="openings",
    scope=vents,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    yield from undeclared(site, "smoke_vent")
    for opening in site.openings.values():
        if lost := unread(site, "openings", opening.id, "smoke_vent", "smoke_stroke_mm", "fire_stroke_mm"):
            yield lost
            continue
        asked, fire = opening.smoke_stroke_mm, opening.fire_stroke_mm
        movers = site.actuators_of.get(opening.id, ())
        if not opening.smoke_vent or asked is None or not movers:
            continue
        if fire is not None:
            if fire < asked * (1 - 1e-9):
                yield Problem(
                    f"openings/{opening.id}",
                    site.at("openings", opening.id, "fire_stroke_mm"),
                    f"{opening.id} opens {fire:g} mm on a fire command, and the fire strategy asks for {asked:g} mm",
                    size=Size(fire, asked, "mm"),
                )
            continue
        short = [(s, a) for a in movers if (s := site.actuators[a].stroke_mm) is not None and s < asked * (1 - 1e-9)]
        if short:
            stroke, actuator = min(short)
            yield Problem(
                f"openings/{opening.id}",
                site.at("actuators", actuator, "stroke_mm"),
                f"{opening.id} is a smoke vent set to {stroke:g} mm, and the fire strategy asks for {asked:g} mm; set "
                "that, or state the fire_stroke_mm that its controller opens to",
                size=Size(stroke, asked, "mm"),
            )
        elif unset := tuple(a for a in movers if site.actuators[a].stroke_mm is None):
            yield Unknown("stroke_mm is not given", unset)
