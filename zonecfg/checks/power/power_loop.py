"""Cables that carry power form a loop.

Why
    Current then goes two ways. That can be meant, to lose less voltage; more often a line was
    closed by mistake, and a fuse or a cable no longer protects what people think.
Wrong
    cables:
      K-01: {from: PS-1, to: A-01, type: pair, length_m: 5, carries: [power]}
      K-02: {from: A-01, to: A-02, type: pair, length_m: 5, carries: [power]}
      K-03: {from: A-02, to: PS-1, type: pair, length_m: 5, carries: [power]}
Right
    Open the loop: power leads to everything by one way.

        cables:
          K-01: {from: PS-1, to: A-01, type: pair, length_m: 5, carries: [power]}
          K-02: {from: A-01, to: A-02, type: pair, length_m: 5, carries: [power]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.graph.cables import a_loop
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check("power-loop", "warning", source="common practice", needs=("cables", "supplies"), over="supplies")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong, one finding a piece of cables that hang together."""
    if figures.power.unknown is not None:
        yield figures.power.unknown
        return
    for feed in figures.topology.feeds:
        if not feed.piece.has_loop:
            continue
        if feed.supplies and (apart := figures.power.apart(feed)) is not None:
            yield apart
            continue
        *others, closing = sorted(a_loop(figures.topology.edges["power"][cable] for cable in sorted(feed.piece.cables)))
        about = f"supplies/{min(feed.supplies)}" if feed.supplies else f"cables/{closing}"
        ring = listed((*others, closing))
        yield Problem(
            about,
            site.at("cables", closing, "carries"),
            f"{ring} {'form a loop of power' if others else 'leads power back to where it begins'}; "
            f"without {closing} everything is still reached",
            tuple(site.at("cables", cable) for cable in others),
            subjects=(about, *(f"cables/{cable}" for cable in (*others, closing))),
        )
