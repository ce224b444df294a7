"""The moments that load the supplies most: which actuators move together, and what everything draws."""

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown

ALL = "all close"


class Event(Struct, frozen=True, gc=False):
    """Something that sets actuators moving at one time; the name completes "when ..."."""

    name: str
    actuators: Sequence[str]


class Draws(Struct, frozen=True, gc=False):
    """Current of every thing [A]: at rest, and of actuators while they move. What is not known is left out."""

    idle_a: Mapping[str, float]
    moving_a: Mapping[str, float]
    running_only: frozenset[str]
    unknown: Mapping[str, Unknown]


def events(site: Site) -> Iterator[Event]:
    """Give every event in the order in which ties are settled: all, then sensors, then groups, by id."""
    yield Event(ALL, list(site.actuators))
    members = site.members_of
    for sensor in sorted(site.sensors):
        linked = [group for group in dict.fromkeys(site.links.get(sensor, ())) if group in members]
        together = dict.fromkeys(actuator for group in linked for actuator in members[group])
        if together:
            yield Event(f"{sensor} closes its groups", list(together))
    for group in sorted(members):
        if members[group]:
            yield Event(f"group {group} closes", members[group])


def draws(site: Site) -> Draws:
    """Gather what everything draws: the type's own figures, and no others."""
    idle: dict[str, float] = {}
    moving: dict[str, float] = {}
    running_only = []
    unknown: dict[str, Unknown] = {}
    for actuator in site.actuators.values():
        amps = actuator.peak_a
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


def movers(
    event: Event,
    site: Site,
    controller_of: Mapping[str, str],
    moving_a: Mapping[str, float],
    supply_ohm: Mapping[str, float],
) -> list[str]:
    """Say which actuators of an event move at its worst moment.

    Each controller moves at most ``moves_at_once`` sashes together: those with the largest current; of equal ones
    those with the larger resistance to their supply; then by id. One that states no such number moves all, and so do
    actuators whose controller is not known.

    Parameters
    ----------
    event
        The event.
    site
        The site.
    controller_of
        Controller of each actuator.
    moving_a
        Current of each actuator that a supply feeds, while it moves [A]; others do not move.
    supply_ohm
        Resistance between supply and actuator [ohm], where it is known.
    """
    actuators, controllers = site.actuators, site.controllers
    homes: dict[str | None, dict[str, list[str]]] = {}
    for actuator in event.actuators:
        if actuator in moving_a:
            sashes = homes.setdefault(controller_of.get(actuator), {})
            sashes.setdefault(actuators[actuator].opening or actuator, []).append(actuator)
    found: list[str] = []
    for home, sashes in homes.items():
        commands = controllers.get(home) if home is not None else None
        most = None if commands is None else commands.moves_at_once
        if most is None or len(sashes) <= most:
            ranked = list(sashes)
        else:
            keys = {
                sash: (
                    -round(sum([moving_a[a] for a in members]), 9),
                    -round(max([supply_ohm.get(a, 0.0) for a in members]), 9),
                    sash,
                )
                for sash, members in sashes.items()
            }
            ranked = sorted(sashes, key=keys.__getitem__)[:most]
        for sash in ranked:
            found += sashes[sash]
    return found
