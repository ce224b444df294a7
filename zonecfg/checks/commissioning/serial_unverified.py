"""A planned serial was never read on site.

Why
    The serial on the plan says what was delivered. Which one hangs at the window is known once
    somebody has read it there, and every restore of a copy goes by it.
Wrong
    actuators:
      A-01: {type: chain-24-350, opening: W-01, stroke_mm: 300, serial: "70041832"}
    record:
      actuators:
        A-01: {walk_test: pass}
Right
    Read the label at the window, or identify the window by moving it, and record the serial.

        record:
          actuators:
            A-01: {serial: "70041832", walk_test: pass}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.evidence import record_at
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check("serial-unverified", "warning", source="common practice", needs=("record", "actuators"), over="actuators")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for actuator in site.actuators.values():
        if lost := unread(site, "actuators", actuator.id, "serial") or unread(
            site, "record/actuators", actuator.id, "serial"
        ):
            yield lost
            continue
        record = site.record.actuators.get(actuator.id)
        if actuator.serial is not None and (record is None or record.serial is None):
            yield Problem(
                f"actuators/{actuator.id}",
                record_at(site, "actuators", actuator.id, "serial"),
                f"serial {actuator.serial} of {actuator.id} is as planned: no reading of it on site is recorded",
            )
