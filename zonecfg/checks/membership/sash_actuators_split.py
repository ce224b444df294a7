"""The actuators of one sash are not all in the same group.

Why
    One pushes while the other holds; the sash twists, and hinge, chain or glass gives way.
Wrong
    groups:
      east: {actuators: [A-01a]}
      west: {actuators: [A-01b]}     # both on opening W-01
Right
    Keep the actuators of one sash in one group.

        groups:
          east: {actuators: [A-01a, A-01b]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import pairs
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "sash-actuators-split",
    "error",
    source="common practice",
    needs=("groups", "actuators"),
    over="openings",
    scope=pairs,
    touches="safety",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    for opening, actuators in site.actuators_of.items():
        if len(actuators) < 2:
            continue
        homes = {actuator: tuple(sorted(site.groups_of.get(actuator, ()))) for actuator in sorted(actuators)}
        if len(set(homes.values())) == 1 and (all(homes.values()) or site.membership_known):
            continue
        if not site.membership_known:
            yield Unknown("the members of a group could not be read", (opening,))
            continue
        moved = listed(f"{actuator} by {listed(groups) or 'no group'}" for actuator, groups in homes.items())
        yield Problem(
            f"openings/{opening}",
            site.at("actuators", min(homes)),
            f"the sash of {opening} is pulled apart: {moved}",
            tuple(site.at("actuators", actuator) for actuator in list(homes)[1:]),
            subjects=(f"openings/{opening}", *(f"actuators/{actuator}" for actuator in actuators)),
        )
