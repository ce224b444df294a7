"""The bus is in pieces: a part of it, or a device, is joined to no controller.

Why
    What the bus does not reach hears no command. Drawings show it as a line that ends at the
    wrong box.
Wrong
    cables:
      K-02: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [power, bus]}
      K-03: {from: A-01, to: A-02, type: pair, length_m: 2, carries: [power]}
    # A-02 is on no bus
Right
    Let the cable between the parts carry the bus.

        cables:
          K-02: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [power, bus]}
          K-03: {from: A-01, to: A-02, type: pair, length_m: 2, carries: [power, bus]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.graph.cables import as_subject
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "bus-in-pieces",
    "error",
    source="common practice",
    needs=("cables", "controllers", "actuators", "sensors"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong: pieces without a controller, then devices without a bus cable."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for bus in figures.buses.all:
        if not bus.controllers:
            first, *others = sorted(bus.piece.cables)
            yield Problem(
                bus.about,
                site.at("cables", first),
                f"no controller is on the piece of bus that joins {listed(sorted(bus.things))}; "
                "a cable to the rest of the bus is missing, or does not carry it",
                tuple(site.at("cables", cable) for cable in others),
                subjects=(bus.about, *(as_subject(site, thing) for thing in bus.things)),
            )
    joined = {thing for bus in figures.buses.all for thing in bus.things}
    for section in ("controllers", "actuators", "sensors"):
        for device in getattr(site, section).values():
            if device.id in joined:
                continue
            if (lost := unread(site, section, device.id, "bus_unit_load")) is not None:
                yield lost
            elif device.bus_unit_load:
                yield Problem(
                    f"{section}/{device.id}",
                    site.at(section, device.id),
                    f"{device.id} is made for the bus, and no cable that carries the bus leads to it",
                )
