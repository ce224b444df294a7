"""No test is recorded of the release of an escape window.

Why
    A way out counts once a hand has opened it, without tools and without power.
Wrong
    record:
      openings: {}      # escape: true, hand_release: hand
Right
    Free the sash by hand, open it fully, close it again, and record it.

        record:
          openings:
            W-21: {release_test: pass, date: 2026-05-14, by: installer}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import releases
from zonecfg.figures import Figures
from zonecfg.figures.evidence import record_at
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "release-test-missing",
    "warning",
    source="common practice",
    needs=("record", "openings", "actuators"),
    over="openings",
    scope=releases,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    concerned = set(releases(figures))
    for thing in site.openings:
        if lost := unread(site, "openings", thing, "escape", "hand_release"):
            yield lost
            continue
        if thing not in concerned:
            continue
        if lost := unread(site, "record/openings", thing, "release_test"):
            yield lost
            continue
        record = site.record.openings.get(thing)
        if record is None or record.release_test is None:
            yield Problem(
                f"openings/{thing}",
                record_at(site, "openings", thing, "release_test"),
                f"no test of its release by hand is recorded for {thing}",
            )
