"""No test on battery alone is recorded for a supply that has one.

Why
    A battery that nobody has tried is a hope: it may be flat, unplugged, or too small.
Wrong
    record:
      supplies: {}      # battery: true
Right
    Switch the mains off, give the fire command, watch that all open fully, and record it.

        record:
          supplies:
            PS-1: {battery_test: pass, date: 2026-05-14, by: installer}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import batteries
from zonecfg.figures import Figures
from zonecfg.figures.evidence import record_at
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "battery-test-missing",
    "warning",
    source="common practice",
    needs=("record", "supplies"),
    over="supplies",
    scope=batteries,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    concerned = set(batteries(figures))
    for thing in site.supplies:
        if lost := unread(site, "supplies", thing, "battery"):
            yield lost
            continue
        if thing not in concerned:
            continue
        if lost := unread(site, "record/supplies", thing, "battery_test"):
            yield lost
            continue
        record = site.record.supplies.get(thing)
        if record is None or record.battery_test is None:
            yield Problem(
                f"supplies/{thing}",
                record_at(site, "supplies", thing, "battery_test"),
                f"no test on battery alone is recorded for {thing}",
            )
