"""Snow on a smoke vent is more than its actuators lift.

Why
    A fire does not wait for a thaw. What lies on a roof vent is weight that has to be lifted over
    the whole smoke stroke.
Wrong
    site: {snow_kpa: 0.75, wind_m_s: 10}
    openings:
      SV-1: {type: roof-vent, room: stair, smoke_vent: true}      # thrust_n: 300
Right
    Take actuators for the weight with snow.

        types:
          actuators:
            rack-24-500: {kind: rack, stroke_max_mm: 500, thrust_n: 900}
"""

from collections.abc import Iterator
from math import ceil

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import vents
from zonecfg.figures import Figures
from zonecfg.figures.exposure import WALL_PITCH, pitch_of
from zonecfg.figures.unread import sashless, undeclared, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "thrust-too-small-in-snow",
    "warning",
    source="moments about the hinge; snow on the sash by EN 1991-1-3, classes of vents by EN 12101-2, both from memory",
    needs=("openings", "actuators", "site"),
    over="openings",
    scope=vents,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    yield from undeclared(site, "smoke_vent")
    for key, thrust in figures.thrusts.items():
        opening, known = site.openings[key], figures.openings[key]
        if lost := unread(site, "openings", key, "smoke_vent", "pitch_deg"):
            yield lost
            continue
        if not opening.smoke_vent or pitch_of(opening) >= WALL_PITCH:
            continue
        if site.info.snow_kpa is None:
            yield Unknown("site.snow_kpa is not given", (key,))
        elif thrust.snow is None:
            yield thrust.unknown or known.force_unknown or Unknown("the force with snow is not known", (key,))
        elif thrust.snow.ratio > 1 + 1e-9:
            need = thrust.snow
            yield Problem(
                f"openings/{key}",
                site.at("actuators", need.actuator, "thrust_n"),
                f"with snow of {site.info.snow_kpa:g} kPa {need.movement} {key} takes {need.each_n:.0f} N of "
                f"{need.actuator} at {need.force.stroke_mm:.0f} mm; it has {need.has_n:g} N: "
                f"{ceil(need.each_n)} N each would do",
                size=Size(need.each_n, need.has_n, "N"),
            )
