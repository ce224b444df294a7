"""An actuator is too weak to open or to close its sash.

Why
    The window stays open in the rain, or shut when air is needed; the actuator overloads and
    cuts out half way. Pushing and pulling differ, and the hardest place can be anywhere.
Wrong
    openings:
      W-01: {type: heavy, room: hall, width_mm: 1200, height_mm: 1500, sash_mass_kg: 90}
    actuators:
      A-01: {type: chain-24-350, opening: W-01, stroke_mm: 300}      # thrust_n: 150
Right
    Take a stronger type, or one more actuator on the sash.

        types:
          actuators:
            chain-24-350: {kind: chain, thrust_n: 400}
"""

from collections.abc import Iterator
from math import ceil

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.thrust import left_out, need_words
from zonecfg.figures.unread import sashless
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "thrust-too-small",
    "error",
    source="moments about the hinge over the whole travel: weight, wind ½·1.225·v², seal and friction",
    needs=("openings", "actuators", "site"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    for key, thrust in figures.thrusts.items():
        need, stroke = thrust.worst, figures.openings[key].stroke_mm
        if thrust.fire is not None and (need is None or thrust.fire.ratio > need.ratio + 1e-9):
            need, stroke = thrust.fire, figures.openings[key].fire_stroke_mm  # the way a smoke vent has to go
        if need is not None and need.ratio > 1 + 1e-9:
            opening, sash = site.openings[key], figures.openings[key]
            verb = "pushes with" if need.movement == "opening" else "pulls with"
            enough = ceil(need.force.total_n / need.has_n - 1e-9)
            yield Problem(
                f"openings/{key}",
                site.at("actuators", need.actuator, "thrust_n"),
                f"{need_words(site, opening, sash, need, stroke)}; {need.actuator} {verb} {need.has_n:g} N: "
                f"{ceil(need.each_n)} N each or {enough} such actuators would do{left_out(opening, sash)}",
                size=Size(need.each_n, need.has_n, "N"),
            )
        elif (unknown := thrust.unknown or thrust.fire_unknown) is not None:
            yield unknown
