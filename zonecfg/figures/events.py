"""The moments that load the supplies most: which actuators move together, and what everything draws."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from zonecfg.figures.unread import unread
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
    known: set[frozenset[str]] = set()
    for sensor in sorted(site.sensors):
        linked = [group for group in dict.fromkeys(site.links.get(sensor, ())) if group in members]
        if frozenset(linked) in known:  # a sensor of the same groups, which comes first
            continue
        known.add(frozenset(linked))
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


class Queues:
    """Who moves first, where a controller moves only some sashes at once.

    Each controller moves at most ``moves_at_once`` sashes together: those with the largest current; of equal ones
    those with the larger resistance to their supply; then by id. One that states no such number moves all, and so do
    actuators whose controller is not known.

    Parameters
    ----------
    site
        The site.
    controller_of
        Controller of each actuator.
    moving_a
        Current of each actuator that a supply feeds, while it moves [A]; others do not move.
    supply_ohm
        Resistance between supply and actuator [ohm], where it is known.
    """

    def __init__(
        self,
        site: Site,
        controller_of: Mapping[str, str],
        moving_a: Mapping[str, float],
        supply_ohm: Mapping[str, float],
    ) -> None:
        self._most = {controller.id: controller.moves_at_once for controller in site.controllers.values()}
        self._amp, self._ohm = moving_a, supply_ohm
        self._sash = {
            actuator: (controller_of.get(actuator), site.actuators[actuator].opening or actuator)
            for actuator in moving_a
        }
        self._ranks: dict[tuple[str, ...], tuple[int, int, str]] = {}

    def movers(self, event: Event) -> list[str]:
        """Say which actuators of an event move at its worst moment."""
        homes: defaultdict[str | None, defaultdict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
        where = self._sash
        for actuator in event.actuators:
            if actuator in where:
                home, sash = where[actuator]
                homes[home][sash].append(actuator)
        found: list[str] = []
        for home, sashes in homes.items():
            most = None if home is None else self._most.get(home)
            if most is None or len(sashes) <= most:
                moving = list(sashes.values())
            else:
                ranks = [self._ranks.get(key := tuple(m)) or self._rank(key, sash) for sash, m in sashes.items()]
                ranks.sort()
                moving = [sashes[sash] for _, _, sash in ranks[:most]]
            for members in moving:
                found += members
        return found

    def _rank(self, members: tuple[str, ...], sash: str) -> tuple[int, int, str]:
        """Current [nA] and resistance [nohm] of a sash, the larger the sooner; whole, so that ties are ties."""
        amp = sum([self._amp[actuator] for actuator in members])
        ohm = max([self._ohm.get(actuator, 0.0) for actuator in members])
        self._ranks[members] = rank = -round(amp * 1e9), -round(ohm * 1e9), sash
        return rank
