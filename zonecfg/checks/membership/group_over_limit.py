"""A group has more actuators than its controller allows.

Why
    The controller does not take the ones beyond its limit, and which those are nobody chose.
Wrong
    types:
      controllers: {hall: {limits: {actuators_per_group: 2}}}
    groups:
      east: {actuators: [A-01, A-02, A-03]}
Right
    Split the group; keep the actuators of one sash together.

        groups:
          east: {actuators: [A-01, A-02]}
          north: {actuators: [A-03]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "group-over-limit",
    "error",
    source="the controller type's limits.actuators_per_group",
    needs=("groups", "controllers"),
    over="groups",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for group in site.groups.values():
        controller = figures.topology.controller_of_group.get(group.id)
        if controller is None or controller not in site.controllers:
            yield Unknown("the group's controller is not known; name it with groups.controller", (group.id,))
            continue
        limits = site.controllers[controller].limits
        most = limits.actuators_per_group if limits else None
        if most is None:
            yield Unknown("limits.actuators_per_group of the controller is not given", (group.id,))
        elif group.actuators is None:
            yield Unknown("the members of a group could not be read", (group.id,))
        elif (count := len(set(group.actuators))) > most:
            yield Problem(
                f"groups/{group.id}",
                site.at("groups", group.id),
                f"{group.id} has {count} actuators; {controller} takes {most} in a group",
                size=Size(count, most, "actuators"),
            )
