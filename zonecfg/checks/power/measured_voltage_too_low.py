"""The voltage measured at a moving actuator is below its least.

Why
    Whatever was computed, this is what is there: a wrong cable, a loose terminal or a tired
    battery shows here.
Wrong
    record:
      actuators:
        A-01: {voltage_moving_v: 19.2}      # voltage_min_v: 20.4
Right
    Find where the voltage is lost, mend it, and measure again with the same windows moving.

        record:
          actuators:
            A-01: {voltage_moving_v: 22.1}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.network import Volt
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "measured-voltage-too-low",
    "error",
    source="voltage_min_v of the actuator type",
    needs=("record", "actuators", "cables", "supplies"),
    states=("as-commissioned",),
    over="actuators",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for actuator in site.actuators.values():
        record = site.record.actuators.get(actuator.id)
        measured, least = record.voltage_moving_v if record else None, actuator.voltage_min_v
        if measured is None:
            yield Unknown("no voltage_moving_v is recorded", (actuator.id,))
            continue
        feed = figures.topology.feed_of.get(actuator.id)
        if feed is not None and (apart := figures.power.apart(feed)) is not None:
            yield apart
        elif least is None:
            yield Unknown("voltage_min_v of the actuator is not given", (actuator.id,))
        elif measured < least:
            computed = figures.power.voltage(actuator.id)
            beside = f", {computed.volt:.1f} V is computed" if isinstance(computed, Volt) else ""
            yield Problem(
                f"actuators/{actuator.id}",
                join("record", "actuators", actuator.id, "voltage_moving_v"),
                f"{actuator.id} was measured to have {measured:g} V while it moves{beside}; its minimum is {least:g} "
                "V: look for a loose terminal or a thinner cable on its way",
                size=Size(measured, least, "V"),
            )
