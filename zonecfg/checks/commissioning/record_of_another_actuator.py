"""The record is of another actuator than the one fitted.

Why
    After an actuator is replaced, its predecessor's tests prove nothing: the new one
    has its own calibration and its own place in the groups.
Wrong
    actuators:
      A-01: {type: chain-24-350, opening: W-01, serial: "70041901"}
    record:
      actuators:
        A-01: {serial: "70041832", calibrated: true, walk_test: pass}
Right
    Calibrate and test the actuator that is there now, and record its serial.

        record:
          actuators:
            A-01: {serial: "70041901", calibrated: true, walk_test: pass}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "record-of-another-actuator", "warning", source="common practice", needs=("record", "actuators"), over="actuators"
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for actuator in site.actuators.values():
        record = site.record.actuators.get(actuator.id)
        if record is None:
            continue
        if record.serial is None or actuator.serial is None:
            yield Unknown("the serial of the actuator tested or of the one fitted is not given", (actuator.id,))
        elif record.serial != actuator.serial:
            yield Problem(
                f"actuators/{actuator.id}",
                join("record", "actuators", actuator.id, "serial"),
                f"the record of {actuator.id} is of {record.serial}; fitted is {actuator.serial}",
                (site.at("actuators", actuator.id, "serial"),),
            )
