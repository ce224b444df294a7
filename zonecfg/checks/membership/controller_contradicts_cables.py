"""A thing is said to belong to a controller that is not on its bus.

Why
    The controller stated commands nothing that its bus does not reach: the thing obeys another
    one, or none.
Wrong
    actuators:
      A-01: {type: chain-350, opening: W-01, stroke_mm: 300, controller: C-2}    # bus of C-1
Right
    Leave the controller out, or take the thing to the other bus.

        actuators:
          A-01: {type: chain-350, opening: W-01, stroke_mm: 300}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "controller-contradicts-cables",
    "error",
    source="the cables of the bus",
    needs=("actuators", "sensors", "controllers", "cables"),
    over="actuators",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for section in ("actuators", "sensors"):
        if stray := site.controller_unread(section):
            yield Unknown("it is not known which controller they belong to", stray)
    for bus in figures.buses.all:
        if not bus.controllers:
            continue
        for thing in sorted(bus.things):
            device = site.actuators.get(thing) or site.sensors.get(thing)
            stated = None if device is None else device.controller
            if stated is None or stated not in site.controllers or stated in bus.controllers:
                continue
            section = "actuators" if thing in site.actuators else "sensors"
            yield Problem(
                f"{section}/{thing}",
                site.at(section, thing, "controller"),
                f"{thing} is said to belong to {stated} and hangs on the bus of {listed(sorted(bus.controllers))}; "
                "one of the two is wrong",
            )
