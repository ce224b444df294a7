"""The bus branches.

Why
    The signal is reflected where a line splits; from a certain length on the reflections fall
    into the next bits, and devices drop out now and then.
Wrong
    cables:
      K-01: {from: C-1, to: J-1, type: pair, length_m: 9, carries: [bus]}
      K-02: {from: J-1, to: A-01, type: pair, length_m: 20, carries: [bus]}
      K-03: {from: J-1, to: A-02, type: pair, length_m: 20, carries: [bus]}
Right
    Run the bus as one line, in and out at every device.

        cables:
          K-01: {from: C-1, to: A-01, type: pair, length_m: 29, carries: [bus]}
          K-02: {from: A-01, to: A-02, type: pair, length_m: 25, carries: [bus]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.graph.cables import as_subject, thing_at
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "bus-branches",
    "error",
    source="RS-485 practice: a daisy chain first, short stubs next, star and ring poor",
    needs=("cables", "controllers", "terminators"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong, one finding a bus."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for bus in figures.buses.all:
        line = bus.line
        if isinstance(line, Unknown):
            yield line
            continue
        if line.branches:
            branches = sorted(line.branches)
            nodes = [thing for thing, _ in branches]
            cables = listed(sorted(cable for cable, _ in figures.topology.beside_on_bus[branches[0]]))
            more = f"; it branches at {listed(nodes[1:])} too" if nodes[1:] else ""
            yield Problem(
                bus.about,
                thing_at(site, nodes[0]),
                f"{bus.name} branches at {nodes[0]}, where {cables} meet{more}; run it as one line, in and out",
                tuple(thing_at(site, node) for node in nodes[1:]),
                subjects=(bus.about, *(as_subject(site, node) for node in nodes)),
            )
        elif line.unclear:
            lacks = "length_m of the cable" if not isinstance(bus.limit("stub_m"), Unknown) else "bus.stub_m"
            yield Unknown(f"three bus cables meet, and {lacks} is not given to tell a stub from a branch", line.unclear)
