"""An actuator is not calibrated.

Why
    It does not know where open and closed are, and pushes against the frame.
Wrong
    record:
      actuators:
        A-01: {calibrated: false, walk_test: pass}
Right
    Let it make its calibration runs, keep clear meanwhile, and record it.

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
    "not-calibrated",
    "warning",
    source="common practice: calibrated as the maker says, before anything is tested",
    needs=("record", "actuators"),
    over="actuators",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for actuator in site.actuators:
        if lost := unread(site, "record/actuators", actuator, "calibrated"):
            yield lost
            continue
        record = site.record.actuators.get(actuator)
        if record is None or not record.calibrated:
            seen = "not calibrated" if record and record.calibrated is False else "not recorded as calibrated"
            yield Problem(
                f"actuators/{actuator}",
                record_at(site, "actuators", actuator, "calibrated"),
                f"{actuator} is {seen}",
            )
