"""No wind test is recorded for a wind sensor.

Why
    A sensor that nobody has turned may be linked to nothing, and windows stand open in a storm.
Wrong
    record:
      sensors: {}
Right
    Turn the cups until the limit is passed, watch which windows close, and record it.

        record:
          sensors:
            WS-1: {wind_test: pass, date: 2026-05-14, by: installer}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import wind_sensors
from zonecfg.figures import Figures
from zonecfg.figures.evidence import record_at
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "wind-test-missing",
    "warning",
    source="common practice",
    needs=("record", "sensors"),
    over="sensors",
    scope=wind_sensors,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    concerned = set(wind_sensors(figures))
    for thing in site.sensors:
        if lost := unread(site, "sensors", thing, "measures"):
            yield lost
            continue
        if site.sensors[thing].measures is None:
            yield Unknown("it is not known what the sensor measures", (thing,))
            continue
        if thing not in concerned:
            continue
        if lost := unread(site, "record/sensors", thing, "wind_test"):
            yield lost
            continue
        record = site.record.sensors.get(thing)
        if record is None or record.wind_test is None:
            yield Problem(
                f"sensors/{thing}",
                record_at(site, "sensors", thing, "wind_test"),
                f"no wind test is recorded for {thing}",
            )
