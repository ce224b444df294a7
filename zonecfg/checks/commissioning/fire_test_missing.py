"""No test with the fire command is recorded for a controller with smoke vents.

Why
    That a fire command opens the vents, in the rain too, is known once it was tried, by
    people competent for it.
Wrong
    record:
      controllers:
        C-1: {actuators_counted: 5}      # and W-30 is a smoke vent on C-1
Right
    Have it tested as the fire strategy says, and record it.

        record:
          controllers:
            C-1: {actuators_counted: 5, fire_test: pass}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import vents_controllers
from zonecfg.figures import Figures
from zonecfg.figures.evidence import record_at
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "fire-test-missing",
    "warning",
    source="common practice",
    needs=("record", "openings", "actuators"),
    over="controllers",
    scope=vents_controllers,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    vents: dict[str, list[str]] = {}
    for actuator in site.actuators.values():
        opening = site.openings.get(actuator.opening or "")
        if lost := unread(site, "openings", actuator.opening or "", "smoke_vent"):
            yield lost
        if opening is None or not opening.smoke_vent:
            continue
        controller = figures.topology.controller_of_actuator.get(actuator.id)
        if controller is None:
            yield Unknown("it is not known which controller commands it", (actuator.id,))
        elif opening.id not in vents.setdefault(controller, []):
            vents[controller].append(opening.id)
    for controller, openings in vents.items():
        if lost := unread(site, "record/controllers", controller, "fire_test"):
            yield lost
            continue
        record = site.record.controllers.get(controller)
        if record is None or record.fire_test is None:
            yield Problem(
                f"controllers/{controller}",
                record_at(site, "controllers", controller, "fire_test"),
                f"no test with the fire command is recorded for {controller}, which moves the smoke "
                f"{'vent' if len(openings) == 1 else 'vents'} {listed(openings)}",
                subjects=(f"controllers/{controller}", *(f"openings/{vent}" for vent in openings)),
            )
