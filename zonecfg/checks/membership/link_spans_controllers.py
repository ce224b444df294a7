"""A sensor acts on a group of another controller.

Why
    A controller hears only its own sensors, unless its type says that it shares them:
    the group stays open in the rain.
Wrong
    links:
      R-1: [annex]      # R-1 reports to C-1, annex belongs to C-2
Right
    Link a sensor of the group's own controller, or say shares_sensors where both do.

        links:
          R-2: [annex]
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import linked_sensors
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.graph.topology import hears, sharing
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "link-spans-controllers",
    "error",
    source="the controller type's shares_sensors",
    needs=("links", "sensors", "groups", "controllers", "cables"),
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
    shared = sharing(site)
    controller_of = figures.topology.controller_of_sensor
    for sensor, groups in site.links.items():
        if sensor not in site.sensors:
            continue
        at = controller_of.get(sensor)
        for index, group in enumerate(groups):
            if group not in site.groups or group in groups[:index]:
                continue
            home = figures.topology.controller_of_group.get(group)
            if at is None or home is None:
                yield Unknown("the controller of the sensor or of the group is not known", (f"{sensor}/{group}",))
                continue
            both = [site.controllers[c] for c in (at, home) if c in site.controllers]
            if hears(home, at, shared):
                continue
            if lost := next((u for c in both if (u := unread(site, "controllers", c.id, "shares_sensors"))), None):
                yield lost
            else:
                yield Problem(
                    f"links/{sensor}/{group}",
                    join("links", sensor, index),
                    f"{sensor} reports to {at}, and {group} belongs to {home}, which does not hear it",
                    subjects=(f"sensors/{sensor}", f"groups/{group}"),
                )
