"""More hangs on a bus than its controller can drive.

Why
    Every receiver draws a little from the line. With too many the levels shrink until bits are
    misread.
Wrong
    types:
      controllers:
        hall-controller: {bus: {unit_loads: 8}, bus_unit_load: 1}
    # and 32 actuators of a quarter of a unit load
Right
    Split the bus, or use devices of a smaller unit load.

        types:
          controllers:
            hall-controller: {bus: {unit_loads: 32}, bus_unit_load: 1}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "bus-overloaded",
    "error",
    source="ANSI/TIA/EIA-485-A: 32 unit loads a segment; bus.unit_loads of the controller type",
    needs=("cables", "controllers", "actuators", "sensors"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for bus in figures.buses.all:
        loads, most = bus.unit_loads, bus.limit("unit_loads")
        if isinstance(loads, Unknown) or isinstance(most, Unknown):
            yield from (reason for reason in (loads, most) if isinstance(reason, Unknown))
        elif loads > most * (1 + 1e-9):
            yield Problem(
                bus.about,
                site.at("controllers", bus.controllers[0], "bus"),
                f"{bus.name} carries {loads:.4g} unit loads; {most:g} is the most: {loads - most:.3g} have to go, "
                "to a line or a controller of their own",
                size=Size(loads, most, "unit loads"),
            )
