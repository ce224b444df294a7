"""Who hangs on which cables of a site, and who commands whom."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from functools import cached_property

from msgspec import Struct

from zonecfg.graph.cables import Edge, Piece, Port, between_ports, edges, neighbours, pieces
from zonecfg.model.site import Site
from zonecfg.model.wiring import Duty


class Feed(Struct, frozen=True, gc=False):
    """Power cables that hang together, and the supplies among what they join."""

    piece: Piece[str]
    supplies: tuple[str, ...]

    @property
    def joined(self) -> bool:
        """Whether several supplies feed it."""
        return len(self.supplies) > 1


def wired(site: Site, buses: Iterable[Piece[Port]]) -> dict[str, str]:
    """Say which controller each actuator and sensor belongs to whatever the settings: its own, else its bus's only."""
    on_bus: dict[str, frozenset[str]] = {}
    for piece in buses:
        there = frozenset([thing for thing, _ in piece.nodes if thing in site.controllers])
        for thing, _ in piece.nodes:
            on_bus[thing] = on_bus[thing] | there if thing in on_bus else there
    found = {thing: next(iter(there)) for thing, there in on_bus.items() if len(there) == 1}
    for things in (site.actuators, site.sensors):
        found.update({thing.id: thing.controller for thing in things.values() if thing.controller is not None})
    return found


def controllers_of(site: Site, buses: Sequence[Piece[Port]]) -> tuple[dict[str, str], dict[str, str]]:
    """Say which controller commands each actuator and each sensor.

    Its own ``controller``; else the only controller on its bus; else (an actuator) its group's, (a sensor) its linked
    groups'; else the only one of the site; else it is not known and left out.

    Parameters
    ----------
    site
        The site.
    buses
        Its bus pieces.

    Returns
    -------
    tuple of dict
        Actuator to controller, sensor to controller.
    """
    fixed = wired(site, buses)
    only = next(iter(site.controllers)) if len(site.controllers) == 1 else None
    group_controller = {group.id: group.controller or only for group in site.groups.values()}

    def settle(groups: Iterable[str]) -> str | None:
        named = {group_controller[group] for group in groups if group_controller.get(group) is not None}
        if len(named) == 1:
            return named.pop()
        return only

    groups_of, links = site.groups_of, site.links
    actuators = {a: fixed.get(a) or settle(groups_of.get(a, ())) for a in site.actuators}
    sensors = {s: fixed.get(s) or settle(links.get(s, ())) for s in site.sensors}
    return (
        {thing: controller for thing, controller in actuators.items() if controller is not None},
        {thing: controller for thing, controller in sensors.items() if controller is not None},
    )


def sharing(site: Site) -> frozenset[str]:
    """Controllers whose type says that they share their sensors."""
    return frozenset(c.id for c in site.controllers.values() if c.shares_sensors)


def hears(home: str | None, at: str | None, shared: AbstractSet[str]) -> bool | None:
    """Whether a group's controller hears a sensor.

    Parameters
    ----------
    home, at
        The controller of the group, and that of the sensor.
    shared
        Controllers that share their sensors, see `sharing`.

    Returns
    -------
    bool or None
        A controller hears its own sensors, and those of another where both share; None where one is not known.
    """
    if home is None or at is None:
        return None
    return home == at or {home, at} <= shared


class Topology:
    """The cable graphs of one site, worked out once."""

    def __init__(self, site: Site) -> None:
        self.site = site

    @cached_property
    def edges(self) -> Mapping[Duty, Mapping[str, Edge[str]]]:
        """For each duty its cables by id, with the things at their ends."""
        return edges(self.site)

    @cached_property
    def _bus_edges(self) -> Sequence[Edge[Port]]:
        return between_ports(self.site, self.edges["bus"].values())

    @cached_property
    def buses(self) -> list[Piece[Port]]:
        """Connected pieces of cables that carry the bus, a controller's lines kept apart."""
        return pieces(self._bus_edges, self.beside_on_bus)

    @cached_property
    def beside_on_bus(self) -> dict[Port, list[tuple[str, Port]]]:
        """For each port on a bus its cables and what is at their other end."""
        return neighbours(self._bus_edges)

    @cached_property
    def terminated(self) -> frozenset[str]:
        """Things that carry a bus resistor: named as terminators, or controllers that have it built in."""
        controllers = self.site.controllers.values()
        return frozenset(self.site.terminators).union(c.id for c in controllers if c.bus_end_resistor == "built-in")

    @cached_property
    def power(self) -> list[Piece[str]]:
        """Connected pieces of cables that carry power."""
        return pieces(self.edges["power"].values(), self.beside_on_power)

    @cached_property
    def beside_on_power(self) -> dict[str, list[tuple[str, str]]]:
        """For each thing on power cables its cables and what is at their other end."""
        return neighbours(self.edges["power"].values())

    @cached_property
    def feeds(self) -> list[Feed]:
        """Every piece of power cables with its supplies."""
        supplies = self.site.supplies
        return [Feed(piece, tuple([thing for thing in piece.nodes if thing in supplies])) for piece in self.power]

    @cached_property
    def feed_of(self) -> dict[str, Feed]:
        """Piece of power cables that each thing hangs on."""
        return {thing: feed for feed in self.feeds for thing in feed.piece.nodes}

    @cached_property
    def unclear(self) -> tuple[str, ...]:
        """Cables whose ends or duties are not known: what they join is not known either."""
        return tuple(
            cable.id
            for cable in self.site.cables.values()
            if cable.carries is None or cable.from_ is None or cable.to is None
        )

    @cached_property
    def synchronised(self) -> list[Piece[str]]:
        """Actuators that sync cables join."""
        return pieces(self.edges["sync"].values())

    @cached_property
    def _controllers(self) -> tuple[dict[str, str], dict[str, str]]:
        return controllers_of(self.site, self.buses)

    @property
    def controller_of_actuator(self) -> dict[str, str]:
        """Controller that commands each actuator, where it is known."""
        return self._controllers[0]

    @property
    def controller_of_sensor(self) -> dict[str, str]:
        """Controller each sensor reports to, where it is known."""
        return self._controllers[1]

    @cached_property
    def controller_of_group(self) -> dict[str, str]:
        """Controller that holds each group: its own, else the only one of the site."""
        controllers = self.site.controllers
        only = next(iter(controllers)) if len(controllers) == 1 else None
        found = {group.id: group.controller or only for group in self.site.groups.values()}
        return {group: controller for group, controller in found.items() if controller is not None}

    @cached_property
    def actuators_on(self) -> dict[str, list[str]]:
        """Actuators that each controller commands."""
        return _gathered(self.controller_of_actuator)

    @cached_property
    def groups_on(self) -> dict[str, list[str]]:
        """Groups that each controller holds."""
        return _gathered(self.controller_of_group)

    @cached_property
    def rain_sensors_on(self) -> dict[str, list[str]]:
        """Rain sensors that report to each controller."""
        sensors = self.site.sensors
        return _gathered({s: c for s, c in self.controller_of_sensor.items() if sensors[s].measures == "rain"})


def _gathered(controller_of: Mapping[str, str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for thing, controller in controller_of.items():
        found.setdefault(controller, []).append(thing)
    return found
