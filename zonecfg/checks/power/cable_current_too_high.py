"""A cable carries more current than it may.

Why
    It heats up inside a wall or a frame, where nobody sees it.
Wrong
    cables:
      K-01: {from: PS-1, to: J-1, type: bus-2x0.75, length_m: 5, carries: [power]}
    # current_max_a of bus-2x0.75: 4
Right
    Take a cable for the current, or split the load over two.

        cables:
          K-01: {from: PS-1, to: J-1, type: feeder-2x6, length_m: 5, carries: [power]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "cable-current-too-high",
    "error",
    source="Kirchhoff's current law, in the worst event; current_max_a of the cable type",
    needs=("cables", "supplies", "actuators", "controllers", "sensors", "groups", "links", "types"),
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    power = figures.power
    if power.unknown is not None:
        yield power.unknown
        return
    for feed in figures.topology.feeds:
        if not feed.supplies:
            continue
        network = power.network_of(feed.supplies[0])
        if isinstance(network, Unknown):
            yield network
            continue
        if lacks := tuple(cable.id for cable in network.cables if cable.current_max_a is None):
            yield Unknown("current_max_a of the cable is not given", lacks)
        given = [cable.current_max_a for cable in network.cables if cable.current_max_a is not None]
        if not given or (network.load_unknown is None and network.peak.amp <= min(given)):
            continue  # whatever the way, no cable carries more than the supply gives
        if network.load_unknown is not None:
            yield network.load_unknown
            continue
        only = " (running current only: no peak_a is given)" if network.running_only else ""
        for cable in network.cables:
            most = cable.current_max_a
            if most is None or network.peak.amp <= most:
                continue
            if (carried := network.carried(cable)) is None:
                yield network.volt_unknown or Unknown("how a loop shares the current is not known", (cable.id,))
            elif carried.amp > most * (1 + 1e-9):
                amp, event = carried.amp, carried.event
                yield Problem(
                    f"cables/{cable.id}",
                    site.at("cables", cable.id, "current_max_a"),
                    f"{cable.id} carries {amp:.4g} A when {event}{only}; it may carry {most:g} A: "
                    f"take a cable for {amp:.4g} A or more, or split what hangs on it",
                )
