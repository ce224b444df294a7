"""An end of the bus has no resistor.

Why
    Without a resistor like the line itself the signal is thrown back from the open end. It works
    on the bench, and fails on the long line.
Wrong
    cables:
      K-01: {from: C-1, to: A-01, type: pair, length_m: 90, carries: [bus]}
    terminators: [C-1]
Right
    Put a resistor at each of the two ends: fit it, or switch it on where the device has one.

        terminators: [C-1, A-01]
"""

from collections.abc import Iterator

from zonecfg.checks.cures import Patch, listing
from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.graph.cables import as_subject, thing_at
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "terminator-missing",
    "error",
    source="ANSI/TIA/EIA-485-A: one resistor of the line's impedance at each of the two ends",
    needs=("cables", "controllers", "terminators"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong, one finding a bus."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for bus in figures.buses.all:
        ends = bus.ends
        if isinstance(ends, Unknown):
            yield ends
            continue
        bare = [thing for thing, _ in ends if thing not in figures.topology.terminated]
        lost = [unread(site, "controllers", thing, "bus_end_resistor") for thing in bare]
        if known := [unknown for unknown in lost if unknown is not None]:
            yield from known
        elif bare:
            switched = [c for c in bare if c in site.controllers and site.controllers[c].bus_end_resistor == "switch"]
            how = f"; switch on the one in {listed(switched)}" if switched else ""
            fit = [thing for thing in bare if thing not in switched]
            how += f"; fit one at {listed(fit)}" if fit else ""
            yield Problem(
                bus.about,
                thing_at(site, bare[0]),
                f"{bus.name} ends at {listed(thing for thing, _ in ends)}, and has no resistor at {listed(bare)}{how}",
                tuple(thing_at(site, thing) for thing in bare[1:]),
                subjects=(bus.about, *(as_subject(site, thing) for thing in bare)),
                cures=(Cure(how.removeprefix("; "), _patch(site, bare)),),
            )


def _patch(site: Site, bare: list[str]) -> Patch:
    """List the resistors, once they are fitted or switched on."""
    if isinstance(site.own.get("terminators"), list):
        return tuple(step for thing in bare for step in listing(site, "terminators", thing))
    return ({"op": "add", "path": "/terminators", "value": bare},)
