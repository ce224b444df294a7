"""The bus forms a loop.

Why
    A signal then goes round both ways and meets itself, and there is no end to put a resistor at.
Wrong
    cables:
      K-01: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [bus]}
      K-02: {from: A-01, to: A-02, type: pair, length_m: 9, carries: [bus]}
      K-03: {from: A-02, to: C-1, type: pair, length_m: 9, carries: [bus]}
Right
    Open the loop, and put a resistor at each of the two ends.

        cables:
          K-01: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [bus]}
          K-02: {from: A-01, to: A-02, type: pair, length_m: 9, carries: [bus]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "bus-loop",
    "error",
    source="RS-485 practice: a daisy chain first, short stubs next, star and ring poor",
    needs=("cables", "controllers"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong, one finding a bus."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for bus in figures.buses.all:
        if bus.loop:
            *others, closing = sorted(bus.loop)
            shape = "form a loop" if others else "leads back to where it begins"
            yield Problem(
                bus.about,
                site.at("cables", closing, "carries"),
                f"{listed((*others, closing))} {shape} on {bus.name}; without {closing} everything is still reached",
                tuple(site.at("cables", cable) for cable in others),
                subjects=(bus.about, *(f"cables/{cable}" for cable in bus.loop)),
            )
