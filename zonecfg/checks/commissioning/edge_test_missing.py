"""No test is recorded of what stops a window that meets a hand.

Why
    A pressure edge or light curtain that nobody has tried protects nobody.
Wrong
    record:
      openings: {}      # protection: [pressure-edge]
Right
    Let the sash meet a soft body in several places, see that it stops and gives way, record it.

        record:
          openings:
            W-01: {edge_test: pass, date: 2026-05-14, by: installer}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import stopped_by_hands
from zonecfg.figures import Figures
from zonecfg.figures.evidence import record_at
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "edge-test-missing",
    "warning",
    source="common practice",
    needs=("record", "openings", "actuators"),
    over="openings",
    scope=stopped_by_hands,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    concerned = set(stopped_by_hands(figures))
    for thing in site.openings:
        if lost := unread(site, "openings", thing, "protection"):
            yield lost
            continue
        if thing not in concerned:
            continue
        if lost := unread(site, "record/openings", thing, "edge_test"):
            yield lost
            continue
        record = site.record.openings.get(thing)
        if record is None or record.edge_test is None:
            yield Problem(
                f"openings/{thing}",
                record_at(site, "openings", thing, "edge_test"),
                f"no test of its pressure edge or light curtain is recorded for {thing}",
            )
