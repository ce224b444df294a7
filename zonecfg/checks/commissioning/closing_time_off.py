"""Rain closing took much longer, or much shorter, than the plan computes.

Why
    Much longer means a window that sticks or a speed that is not what was ordered; much
    shorter, that some windows did not move at all.
Wrong
    record:
      sensors:
        R-1: {wet_test: pass, settled_after_s: 20}      # 47 s computed
Right
    Watch the test again, window by window.

        record:
          sensors:
            R-1: {wet_test: pass, settled_after_s: 49}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import linked_sensors
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "closing-time-off",
    "warning",
    source="common practice",
    needs=("record", "sensors", "links", "groups", "actuators", "wet_weather"),
    over="sensors",
    scope=linked_sensors,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for sensor, record in site.record.sensors.items():
        if lost := unread(site, "record/sensors", sensor, "settled_after_s"):
            yield lost
        if record.settled_after_s is None or sensor not in site.sensors:
            continue
        computed = figures.sensors[sensor].last_settled_s
        if computed is None:
            yield Unknown(figures.sensors[sensor].because or "the closing time cannot be computed", (sensor,))
            continue
        took = record.settled_after_s
        latest, soonest = 1.25 * computed + 10, computed / 2
        if not soonest <= took <= latest:
            yield Problem(
                f"sensors/{sensor}",
                join("record", "sensors", sensor, "settled_after_s"),
                f"after wetting {sensor} the last window stopped after {took:g} s; {computed:.0f} s is computed, "
                f"and {soonest:.0f} to {latest:.0f} s would be right",
                size=Size(took, computed, "s"),
            )
