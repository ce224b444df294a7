"""A test failed.

Why
    What failed is not commissioned, whatever else is.
Wrong
    record:
      sensors:
        R-1: {wet_test: fail}
Right
    Mend it, test again, record the new result.

        record:
          sensors:
            R-1: {wet_test: pass, settled_after_s: 49}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.pointer import join

CHECK = Check("test-failed", "error", source="common practice", needs=("record",), over="actuators")

TESTS = (
    ("actuators", "walk_test", "walk test"),
    ("groups", "walk_test", "walk test"),
    ("sensors", "wet_test", "wet test"),
    ("sensors", "wind_test", "wind test"),
    ("supplies", "battery_test", "test on battery alone"),
    ("openings", "edge_test", "test of its pressure edge or light curtain"),
    ("openings", "release_test", "test of its release by hand"),
    ("controllers", "fire_test", "test with the fire command"),
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for section, field, what in TESTS:
        for thing, record in getattr(site.record, section).items():
            if lost := unread(site, f"record/{section}", thing, field):
                yield lost
            elif getattr(record, field) == "fail":
                yield Problem(f"{section}/{thing}", join("record", section, thing, field), f"{thing} failed its {what}")
