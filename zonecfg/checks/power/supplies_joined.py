"""Cables that carry power join several supplies.

Why
    Two supplies in parallel share the load as their last tenth of a volt decides; when one
    fails, the other is overloaded, and a fuse protects neither. Nothing there can be computed.
Wrong
    cables:
      K-01: {from: PS-1, to: A-01, type: pair, length_m: 5, carries: [power]}
      K-02: {from: A-01, to: PS-2, type: pair, length_m: 5, carries: [power]}
Right
    Let each supply feed what is its own, and join the parts by bus and common only.

        cables:
          K-01: {from: PS-1, to: A-01, type: pair, length_m: 5, carries: [power]}
          K-02: {from: A-01, to: A-02, type: pair, length_m: 5, carries: [bus, common]}
          K-03: {from: A-02, to: PS-2, type: pair, length_m: 5, carries: [power]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check("supplies-joined", "error", source="common practice", needs=("cables", "supplies"), over="supplies")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong, one finding a piece of cables that hang together."""
    if figures.power.unknown is not None:
        yield figures.power.unknown
        return
    for feed in figures.topology.feeds:
        if feed.joined:
            first, *others = sorted(feed.supplies)
            yield Problem(
                f"supplies/{first}",
                site.at("supplies", first),
                f"{listed((first, *others))} are joined by cables that carry power; take power out of one of the "
                "cables between them",
                tuple(site.at("supplies", other) for other in others),
                subjects=tuple(f"supplies/{supply}" for supply in feed.supplies),
            )
