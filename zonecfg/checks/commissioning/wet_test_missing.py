"""No wet test is recorded for a rain sensor.

Why
    A sensor that nobody has wetted may be linked to nothing.
Wrong
    record:
      sensors: {}
Right
    Wet the sensor, watch which windows close, time it, and record it.

        record:
          sensors:
            R-1: {wet_test: pass, settled_after_s: 49}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import rain_sensors
from zonecfg.figures import Figures
from zonecfg.figures.evidence import record_at
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "wet-test-missing",
    "warning",
    source="common practice",
    needs=("record", "sensors"),
    over="sensors",
    scope=rain_sensors,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for sensor in site.sensors.values():
        if sensor.measures is None:
            yield Unknown("it is not known what the sensor measures", (sensor.id,))
            continue
        if lost := unread(site, "record/sensors", sensor.id, "wet_test"):
            yield lost
            continue
        record = site.record.sensors.get(sensor.id)
        if sensor.measures == "rain" and (record is None or record.wet_test is None):
            yield Problem(
                f"sensors/{sensor.id}",
                record_at(site, "sensors", sensor.id, "wet_test"),
                f"no wet test is recorded for {sensor.id}",
            )
