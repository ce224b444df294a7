"""The fuse of a supply is larger than a cable behind it may carry.

Why
    A short circuit at the far end heats the thin cable for as long as the fuse takes to notice.
Wrong
    supplies:
      PS-1: {type: psu-24-20, fuse_a: 16}
    cables:
      K-02: {from: A-01, to: R-1, type: bus-2x0.75, length_m: 9, carries: [power, bus]}      # 4 A
Right
    Take a smaller fuse, or no cable behind it that may carry less.

        supplies:
          PS-1: {type: psu-24-20, fuse_a: 4}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import fused
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "fuse-over-cable",
    "error",
    source="IEC 60364-4-43, 433.1: the fuse's rating is no larger than the current the conductor may carry",
    needs=("cables", "supplies", "types"),
    over="supplies",
    scope=fused,
    touches="safety",
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
        if (apart := power.apart(feed)) is not None:
            yield apart
            continue
        supply = site.supplies[feed.supplies[0]]
        if supply.fuse_a is None:
            yield Unknown("fuse_a of the supply is not given", (supply.id,))
            continue
        cables = [site.cables[cable] for cable in feed.piece.cables]
        limits = {cable.id: cable.current_max_a for cable in cables if cable.current_max_a is not None}
        weakest = min(sorted(limits), key=lambda cable: limits[cable], default=None)
        if weakest is not None and supply.fuse_a > limits[weakest] * (1 + 1e-9):
            load = power.supplies[supply.id].peak_a
            cure = f"a fuse of {limits[weakest]:g} A or less would protect it"
            if load is None:
                cure += ", where that is more than the load, which is not known"
            elif load > limits[weakest]:
                cure = f"a fuse that protects it blows at the {load:.4g} A it has to feed: take a cable for more"
            yield Problem(
                f"supplies/{supply.id}",
                site.at("supplies", supply.id, "fuse_a"),
                f"{supply.id} has a fuse of {supply.fuse_a:g} A, and {weakest} behind it may carry "
                f"{limits[weakest]:g} A; {cure}",
                (site.at("cables", weakest),),
                subjects=(f"supplies/{supply.id}", f"cables/{weakest}"),
                size=Size(supply.fuse_a, limits[weakest], "A"),
            )
        elif len(limits) < len(cables):
            lacks = tuple(cable.id for cable in cables if cable.current_max_a is None)
            yield Unknown("current_max_a of the cable is not given", lacks)
