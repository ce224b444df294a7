"""A bus is longer than its controller allows.

Why
    The signal arrives too weak and too late at the far end, and devices there drop out first.
Wrong
    types:
      controllers:
        hall-controller: {bus: {length_m: 300}}
    cables:
      K-01: {from: C-1, to: A-01, type: pair, length_m: 420, carries: [bus]}
Right
    Split the bus over two lines or controllers, or run it a shorter way.

        cables:
          K-01: {from: C-1, to: A-01, type: pair, length_m: 210, carries: [bus]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "bus-too-long",
    "error",
    source="bus.length_m and bit_rate of the type; RS-485: 1200 m, TIA/EIA-422-B annex A; 10⁸ m·bit/s, rule of thumb",
    needs=("cables", "controllers"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for bus in figures.buses.all:
        length, most = bus.length_m, bus.length_limit
        if isinstance(length, Unknown) or isinstance(most, Unknown):
            yield from (reason for reason in (length, most) if isinstance(reason, Unknown))
        elif length > most[0] * (1 + 1e-9):
            limit, rate = most
            why = f" at {rate:g} bit/s (length x rate up to 10⁸ m·bit/s, a rule of thumb)" if rate else ""
            yield Problem(
                bus.about,
                site.at("controllers", bus.controllers[0], "bus"),
                f"{bus.name} is {length:g} m long in all; {limit:g} m is the most{why}: "
                f"{length - limit:.4g} m have to go, to a line or a controller of their own",
                size=Size(length, limit, "m"),
            )
