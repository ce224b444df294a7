"""No walk test is recorded for an actuator or a group.

Why
    Until somebody has watched this window move when told to, the plan is only a claim.
Wrong
    record:
      actuators:
        A-01: {calibrated: true}
Right
    Watch it move, fully and freely, and record it.

        record:
          actuators:
            A-01: {calibrated: true, walk_test: pass}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.evidence import record_at
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "walk-test-missing", "warning", source="common practice", needs=("record", "actuators", "groups"), over="actuators"
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for section, things in (("actuators", site.actuators), ("groups", site.groups)):
        records = getattr(site.record, section)
        for thing in things:
            if lost := unread(site, f"record/{section}", thing, "walk_test"):
                yield lost
                continue
            record = records.get(thing)
            if record is None or record.walk_test is None:
                yield Problem(
                    f"{section}/{thing}",
                    record_at(site, section, thing, "walk_test"),
                    f"no walk test is recorded for {thing}",
                )
