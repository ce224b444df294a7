"""The resistance measured across the bus is not that of a line with a resistor at each end.

Why
    A meter across the two wires sees both resistors at once, about 60 Ω. About 120 Ω is one
    missing, or a wire broken on the way; about 40 Ω, one too many.
Wrong
    record:
      buses:
        C-1: {bus_ohm: 118}
Right
    Find the end that has none, or the resistor that should not be there, and measure again.

        record:
          buses:
            C-1: {bus_ohm: 61}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.pointer import join

SHARE = 0.15

CHECK = Check(
    "bus-resistance-off",
    "warning",
    source="120 Ω at both ends (ANSI/TIA/EIA-485-A) in parallel, the loop between; 15 % is common practice",
    needs=("record", "cables", "controllers", "terminators", "types"),
    states=("as-commissioned",),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for controller, buses in figures.buses.of_controller.items():
        record = site.record.buses.get(controller)
        measured = None if record is None else record.bus_ohm
        if measured is None:
            yield Unknown("no bus_ohm is recorded", (controller,))
            continue
        if len(buses) > 1:
            yield Unknown("the controller has several bus lines, and it is not known which was measured", (controller,))
            continue
        expected = buses[0].expected_ohm
        if isinstance(expected, Unknown):
            yield expected
        elif abs(measured - expected) > SHARE * expected * (1 + 1e-9):
            yield Problem(
                f"controllers/{controller}",
                join("record", "buses", controller, "bus_ohm"),
                f"{measured:g} Ω was measured across {buses[0].name}; {expected:.0f} Ω is right, and "
                f"{(1 - SHARE) * expected:.0f} to {(1 + SHARE) * expected:.0f} Ω pass: {_hint(measured, expected)}",
                size=Size(measured, expected, "Ω"),
            )


def _hint(measured: float, expected: float) -> str:
    """Say what the figure looks like."""
    if measured > 4 * expected:
        return "there seems to be no resistor at all, or the line is open here"
    if measured > expected:
        return "one resistor seems to be missing, or a wire is broken on the way to it"
    if measured <= expected / 4:
        return "the wires seem to touch"
    spare = max(1, round(2 * expected / measured) - 2)  # alike and side by side, two are right
    return f"there seem to be {spare} resistors too many" if spare > 1 else "there seems to be one resistor too many"
