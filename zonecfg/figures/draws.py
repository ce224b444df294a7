"""What everything draws, at rest and moving."""

from collections.abc import Mapping

from msgspec import Struct

from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown


class Draws(Struct, frozen=True, gc=False):
    """Current of every thing [A]: at rest, and of actuators while they move. What is not known is left out."""

    idle_a: Mapping[str, float]
    moving_a: Mapping[str, float]
    running_only: frozenset[str]
    unknown: Mapping[str, Unknown]


def draws(site: Site) -> Draws:
    """Gather what everything draws: the type's own figures, and no others."""
    idle: dict[str, float] = {}
    moving: dict[str, float] = {}
    running_only = []
    unknown: dict[str, Unknown] = {}
    for actuator in site.actuators.values():
        amps = actuator.peak_a
        if amps is not None and actuator.running_a is not None:
            amps = max(amps, actuator.running_a)
        if amps is None and (lost := unread(site, "actuators", actuator.id, "peak_a")) is not None:
            unknown[actuator.id] = lost
            continue
        if amps is None:
            amps = actuator.running_a
            running_only.append(actuator.id)
        if amps is None:
            unknown[actuator.id] = Unknown("running_a of the actuator is not given", (actuator.id,))
        else:
            moving[actuator.id] = amps
        if actuator.idle_a is not None:
            idle[actuator.id] = actuator.idle_a
        elif amps is not None:
            unknown[actuator.id] = Unknown("idle_a of the actuator is not given", (actuator.id,))
    for controller in site.controllers.values():
        if controller.idle_a is None:
            unknown[controller.id] = Unknown("idle_a of the controller is not given", (controller.id,))
        else:
            idle[controller.id] = controller.idle_a
    for sensor in site.sensors.values():
        if sensor.running_a is None:
            unknown[sensor.id] = Unknown("running_a of the sensor is not given", (sensor.id,))
        else:
            idle[sensor.id] = sensor.running_a
    return Draws(idle, moving, frozenset(running_only), unknown)
