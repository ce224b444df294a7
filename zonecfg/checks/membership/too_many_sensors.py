"""A controller has more rain sensors than it takes.

Why
    The controller does not see the rain sensors beyond its limit.
Wrong
    types:
      controllers: {hall: {limits: {rain_sensors: 1}}}
    # and two rain sensors on its bus
Right
    Put some on another controller, or choose a type that takes more.

        types:
          controllers: {hall: {limits: {rain_sensors: 2}}}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "too-many-sensors",
    "error",
    source="the controller type's limits.rain_sensors",
    needs=("sensors", "controllers", "cables"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if stray := site.controller_unread("sensors"):
        yield Unknown("it is not known which controller they belong to", stray)
    if site.cables_unread:
        yield Unknown("it is not known what a cable joins or carries", site.cables_unread)
    held = figures.topology.rain_sensors_on
    for controller in site.controllers.values():
        most = controller.limits.rain_sensors if controller.limits else None
        count = len(held.get(controller.id, ()))
        if most is None:
            yield Unknown("limits.rain_sensors of the controller is not given", (controller.id,))
        elif count > most:
            yield Problem(
                f"controllers/{controller.id}",
                site.at("controllers", controller.id),
                f"{controller.id} has {count} rain sensors; it takes {most}",
                size=Size(count, most, "rain sensors"),
            )
    if unclear := [s.id for s in site.sensors.values() if s.measures is None]:
        yield Unknown("it is not known what the sensor measures", tuple(unclear))
    lost = [
        s.id
        for s in site.sensors.values()
        if s.measures == "rain" and s.id not in figures.topology.controller_of_sensor
    ]
    if lost and site.controllers:
        yield Unknown("it is not known which controller they belong to", tuple(lost))
