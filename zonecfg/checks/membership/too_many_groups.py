"""A controller has more groups than it takes.

Why
    The controller does not see the groups beyond its limit.
Wrong
    types:
      controllers: {hall: {limits: {groups: 1}}}
    groups:
      east: {actuators: [A-01]}
      west: {actuators: [A-02]}
Right
    Put some on another controller, or choose a type that takes more.

        types:
          controllers: {hall: {limits: {groups: 2}}}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "too-many-groups",
    "error",
    source="the controller type's limits.groups",
    needs=("groups", "controllers"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    held = figures.topology.groups_on
    for controller in site.controllers.values():
        most = controller.limits.groups if controller.limits else None
        count = len(held.get(controller.id, ()))
        if most is None:
            yield Unknown("limits.groups of the controller is not given", (controller.id,))
        elif count > most:
            yield Problem(
                f"controllers/{controller.id}",
                site.at("controllers", controller.id),
                f"{controller.id} has {count} groups; it takes {most}",
                size=Size(count, most, "groups"),
            )
    lost = [g for g in site.groups if g not in figures.topology.controller_of_group]
    if lost and site.controllers:
        yield Unknown("it is not known which controller they belong to", tuple(lost))
