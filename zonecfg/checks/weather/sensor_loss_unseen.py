"""A sensor that falls silent counts as dry.

Why
    A cut wire then looks like fine weather, and nobody is told.
Wrong
    types:
      sensors:
        rain-plate: {measures: rain, if_lost: dry}
Right
    Have the controller take a lost sensor for wet, or report a fault.

        types:
          sensors:
            rain-plate: {measures: rain, if_lost: wet}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check("sensor-loss-unseen", "warning", source="common practice", needs=("sensors",), over="sensors")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for sensor in site.sensors.values():
        if sensor.if_lost == "dry":
            yield Problem(
                f"sensors/{sensor.id}",
                site.at("sensors", sensor.id, "if_lost"),
                f"{sensor.id} counts as dry when it falls silent: wet or fault is seen by somebody",
            )
        elif sensor.if_lost is None:
            yield Unknown("if_lost of the sensor is not given", (sensor.id,))
