"""A storm can pull a closed sash off its actuators.

Why
    Suction on a sash that opens outward, and pressure on one that opens inward, work on the
    actuators all night. What holds it is their hold at rest at their own lever, or a lock.
Wrong
    site: {storm_wind_m_s: 40, storm_suction: 1.2}
    openings:
      W-01: {type: clerestory, room: hall, height_mm: 1500}      # one actuator, hold_n: 300
Right
    Fit a motor lock, more actuators, or a type that holds more.

        openings:
          W-01: {type: clerestory, room: hall, height_mm: 1500, lock: motor}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.engineering.moments import wind_force
from zonecfg.engineering.wind import dynamic_pressure
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "sash-loose-in-storm",
    "warning",
    source="moments about the hinge; coefficients as the designer states them. From memory of EN 1991-1-4: walls -1.0, "
    "-1.4 at their edges, and 0.2 more by internal pressure",
    needs=("openings", "actuators", "site"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    wind = site.info.storm_wind_m_s
    if lost := unread(site, "site", "site", "storm_wind_m_s", "storm_suction", "storm_pressure"):
        yield lost
        return
    moved = [o for o in site.openings.values() if site.actuators_of.get(o.id) and o.lock != "motor"]
    if wind is None:
        if moved:
            yield Unknown("site.storm_wind_m_s is not given")
        return
    for opening in moved:
        if lost := unread(site, "openings", opening.id, "lock", "opens"):
            yield lost
            continue
        known = figures.openings[opening.id]
        field = "storm_suction" if opening.opens == "outward" else "storm_pressure"
        coefficient = site.info.storm_suction if opening.opens == "outward" else site.info.storm_pressure
        holds = [site.actuators[a].hold_n for a in known.actuators]
        if opening.opens is None or known.levers is None or opening.hinge == "centre-pivot":
            because = "opens is not given" if opening.opens is None else "storms are not computed for a centre pivot"
            yield known.shape_unknown or Unknown(because, (opening.id,))
        elif coefficient is None:
            yield Unknown(f"site.{field} is not given")
        elif silent := tuple(a for a, hold in zip(known.actuators, holds, strict=True) if hold is None):
            yield Unknown("hold_n of the actuator is not given", silent)
        else:
            levers = known.levers
            pressure = coefficient * dynamic_pressure(wind)
            force = wind_force(pressure, levers.swing_mm, levers.along_mm, 0.0, actuator_at_mm=levers.radius_mm)
            hold = sum(hold for hold in holds if hold is not None)
            if force > hold * (1 + 1e-9):
                kind = "suction" if opening.opens == "outward" else "pressure"
                yield Problem(
                    f"openings/{opening.id}",
                    site.at("openings", opening.id, "lock"),
                    f"{kind} of {wind:g} m/s pulls on {opening.id} with {force:.0f} N at its actuators, which hold "
                    f"{hold:g} N; a motor lock, or actuators that hold more, would keep it closed",
                    size=Size(force, hold, "N"),
                )
