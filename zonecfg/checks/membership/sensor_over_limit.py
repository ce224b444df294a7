"""A sensor acts on more groups than its controller allows.

Why
    The links beyond the limit are not stored: those groups stay open in the rain.
Wrong
    types:
      controllers: {hall: {limits: {groups_per_sensor: 1}}}
    links:
      R-1: [east, west]
Right
    Join groups, or add a sensor.

        links:
          R-1: [east]
          R-2: [west]
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import linked_sensors
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "sensor-over-limit",
    "error",
    source="the controller type's limits.groups_per_sensor",
    needs=("links", "sensors", "controllers", "cables"),
    over="sensors",
    scope=linked_sensors,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if stray := site.controller_unread("sensors"):
        yield Unknown("it is not known which controller they belong to", stray)
    if site.cables_unread:
        yield Unknown("it is not known what a cable joins or carries", site.cables_unread)
    if site.links_unread:
        yield Unknown("the groups that a sensor acts on could not be read", site.links_unread)
    for sensor, groups in site.links.items():
        if sensor not in site.sensors:
            continue
        controller = figures.topology.controller_of_sensor.get(sensor)
        if controller is None or controller not in site.controllers:
            yield Unknown("it is not known which controller the sensor reports to", (sensor,))
            continue
        limits = site.controllers[controller].limits
        most = limits.groups_per_sensor if limits else None
        if most is None:
            yield Unknown("limits.groups_per_sensor of the controller is not given", (sensor,))
        elif (count := len(set(groups))) > most:
            yield Problem(
                f"sensors/{sensor}",
                join("links", sensor),
                f"{sensor} acts on {count} groups; {controller} takes {most} a sensor",
                size=Size(count, most, "groups"),
            )
