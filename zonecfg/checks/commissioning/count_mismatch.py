"""A controller counted another number of actuators than the plan gives it.

Why
    One more means a stranger on the bus; one fewer, that a window will not answer.
Wrong
    record:
      controllers:
        C-1: {actuators_counted: 6}      # and five actuators are on C-1
Right
    Find the one that is missing or strange before anything is grouped.

        record:
          controllers:
            C-1: {actuators_counted: 5}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "count-mismatch",
    "error",
    source="common practice",
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
    lost = [a for a in site.actuators if a not in figures.topology.controller_of_actuator]
    for controller in site.controllers:
        record = site.record.controllers.get(controller)
        counted = record.actuators_counted if record else None
        if counted is None:
            yield Unknown("record.controllers has no actuators_counted", (controller,))
        elif lost:
            yield Unknown("it is not known which controller some actuators belong to", (controller,))
        elif counted != (planned := len(held.get(controller, ()))):
            yield Problem(
                f"controllers/{controller}",
                join("record", "controllers", controller, "actuators_counted"),
                f"{controller} counted {counted} actuators; the plan gives it {planned}: "
                + (f"{planned - counted} missing" if counted < planned else f"{counted - planned} strange"),
                size=Size(counted, planned, "actuators"),
            )
