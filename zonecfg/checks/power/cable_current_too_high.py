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

from zonecfg.checks.cures import setting, smallest_type
from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.model.wiring import Cable
from zonecfg.results.finding import Cure, Problem, Size, Unknown

CHECK = Check(
    "cable-current-too-high",
    "error",
    source="Kirchhoff's current law, in the worst event; current_max_a of the cable type",
    needs=("cables", "supplies", "actuators", "controllers", "sensors", "groups", "links", "types"),
    over="cables",
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
                    size=Size(amp, most, "A"),
                    cures=_cures(site, cable, amp),
                )


def _cures(site: Site, cable: Cable, amp: float) -> tuple[Cure, ...]:
    """The next larger type of the catalogue, no thinner than what is there."""
    thinnest = cable.conductor_mm2 or 0.0
    larger = smallest_type(
        site,
        "cables",
        "current_max_a",
        lambda fields: fields["current_max_a"] >= amp and (fields.get("conductor_mm2") or 0.0) >= thinnest,
    )
    if larger is None or cable.type is None:
        return ()
    return (
        Cure(
            f"{larger[0]} carries {larger[1]['current_max_a']:g} A",
            setting(site, "cables", cable.id, "type", larger[0]),
        ),
    )
