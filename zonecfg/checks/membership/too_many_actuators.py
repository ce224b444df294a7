"""A controller has more actuators than it takes.

Why
    The controller does not see the actuators beyond its limit.
Wrong
    types:
      controllers: {hall: {limits: {actuators: 1}}}
    # and two actuators on its bus
Right
    Put some on another controller, or choose a type that takes more.

        types:
          controllers: {hall: {limits: {actuators: 2}}}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "too-many-actuators",
    "error",
    source="the controller type's limits.actuators",
    needs=("actuators", "controllers", "cables"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if stray := site.controller_unread("actuators"):
        yield Unknown("it is not known which controller they belong to", stray)
    if site.cables_unread:
        yield Unknown("it is not known what a cable joins or carries", site.cables_unread)
    held = figures.topology.actuators_on
    for controller in site.controllers.values():
        most = controller.limits.actuators if controller.limits else None
        count = len(held.get(controller.id, ()))
        if most is None:
            yield Unknown("limits.actuators of the controller is not given", (controller.id,))
        elif count > most:
            yield Problem(
                f"controllers/{controller.id}",
                site.at("controllers", controller.id),
                f"{controller.id} has {count} actuators; it takes {most}",
                size=Size(count, most, "actuators"),
            )
    lost = [a for a in site.actuators if a not in figures.topology.controller_of_actuator]
    if lost and site.controllers:
        yield Unknown("it is not known which controller they belong to", tuple(lost))
