"""Friction stays are fitted to a sash that actuators move.

Why
    The stay brakes on one side of the hinge, the actuator pushes at the edge: the sash twists,
    and every movement works against the brake.
Wrong
    openings:
      W-01: {type: casement, room: office, stays: friction}
Right
    Take the friction stays off, or state their force so that it is counted in every movement.

        openings:
          W-01: {type: casement, room: office, stays: none}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "friction-stay-fitted",
    "warning",
    source="common practice",
    needs=("openings", "actuators"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong; an error where the force of the stays is not given."""
    yield from sashless(site)
    for opening in site.actuators_of:
        if opening not in site.openings:
            continue
        sash = site.openings[opening]
        if sash.stays is None:
            yield Unknown("stays of the sash is not given", (opening,))
        elif sash.stays == "friction":
            known = sash.friction_n is not None
            force = (
                f"they brake with {sash.friction_n:g} N" if known else "friction_n is not given, so no force is known"
            )
            yield Problem(
                f"openings/{opening}",
                site.at("openings", opening, "stays"),
                f"{opening} has friction stays, and actuators move it: {force}; take them off",
                severity=None if known else "error",
            )
