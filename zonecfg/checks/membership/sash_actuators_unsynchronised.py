"""The actuators of one sash do not keep step.

Why
    Actuators that do not know of each other drift apart on the way and twist the sash.
Wrong
    actuators:
      A-01a: {type: chain-24-350, opening: W-01}     # sync: wire
      A-01b: {type: chain-24-350, opening: W-01}
    # and no cable between them carries sync
Right
    Join them by a cable that carries sync, or use a type that keeps step over the bus.

        cables:
          K-03: {from: A-01a, to: A-01b, type: pair, length_m: 1, carries: [power, bus, sync]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import pairs
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "sash-actuators-unsynchronised",
    "error",
    source="common practice",
    needs=("actuators", "cables"),
    over="openings",
    scope=pairs,
    touches="safety",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    together = {thing: n for n, piece in enumerate(figures.topology.synchronised) for thing in piece.nodes}
    for opening, ids in site.actuators_of.items():
        if len(ids) < 2:
            continue
        actuators = sorted(ids)
        joined = {together.get(actuator, actuator) for actuator in actuators}
        if len(joined) == 1:
            continue
        if site.cables_unread:
            yield Unknown("it is not known what a cable joins or carries", site.cables_unread)
            continue
        how = [site.actuators[actuator].sync for actuator in actuators]
        if all(way == "bus" for way in how):
            continue
        if None in how:
            yield Unknown("sync of the actuator type is not given, and no cable carries it", (opening,))
        elif not site.cables and "none" not in how:
            yield Unknown("the plan has no cables", (opening,))
        else:
            yield Problem(
                f"openings/{opening}",
                site.at("openings", opening),
                f"{listed(actuators)} move the sash of {opening} and do not keep step: "
                "neither a sync cable joins them nor does their type do so over the bus",
                tuple(site.at("actuators", actuator) for actuator in actuators),
                subjects=(f"openings/{opening}", *(f"actuators/{actuator}" for actuator in ids)),
            )
