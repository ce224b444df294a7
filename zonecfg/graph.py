"""Cables as graphs: the connected pieces of bus and power, and the few questions asked of them."""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

from msgspec import Struct

from zonecfg.model.equipment import Cable, Duty
from zonecfg.model.sections import NODES
from zonecfg.model.site import Site
from zonecfg.results.pointer import join

if TYPE_CHECKING:
    pass

Node = tuple[str, str]
"""A thing that cables meet at, and its line; the line is empty for all but a controller's bus ports."""

Edge = tuple[str, Node, Node]
"""A cable with its two ends."""


class Piece(Struct, frozen=True, gc=False):
    """Cables that hang together, with the nodes they join."""

    nodes: tuple[Node, ...]
    cables: tuple[str, ...]

    @property
    def has_loop(self) -> bool:
        """Whether current or signal can go round: more cables than a tree has."""
        return len(self.cables) >= len(self.nodes)

    @property
    def things(self) -> list[str]:
        """Ids of its nodes, each once."""
        return list(dict.fromkeys(node for node, _ in self.nodes))


class Feed(Struct, frozen=True, gc=False):
    """Power cables that hang together, and the supplies among what they join."""

    piece: Piece
    supplies: tuple[str, ...]

    @property
    def joined(self) -> bool:
        """Whether several supplies feed it."""
        return len(self.supplies) > 1


def home_of(site: Site, thing: str) -> str | None:
    """Section that holds a thing cables can name."""
    return next((section for section in NODES if thing in getattr(site, section)), None)


def thing_at(site: Site, thing: str) -> str:
    """Pointer to a thing cables can name; to nowhere in particular where the plan does not hold it."""
    section = home_of(site, thing)
    return "" if section is None else join(section, thing)


def ends(site: Site, cable: Cable, duty: Duty) -> tuple[Node, Node] | None:
    """Both ends of a cable as nodes of the graph of one duty; None where an end is not known."""
    if cable.from_ is None or cable.to is None:
        return None
    if duty != "bus":
        return (cable.from_, ""), (cable.to, "")
    line = cable.line or "1"
    controllers = site.controllers
    return (
        (cable.from_, line if cable.from_ in controllers else ""),
        (cable.to, line if cable.to in controllers else ""),
    )


def edges(site: Site, duty: Duty) -> Iterator[Edge]:
    """Every cable of one duty with its two ends, in file order."""
    for cable in site.cables.values():
        if cable.carries is not None and duty in cable.carries:
            both = ends(site, cable, duty)
            if both is not None:
                yield cable.id, *both


def neighbours(of: Iterable[Edge]) -> dict[Node, list[tuple[str, Node]]]:
    """For each node its cables and what is at their other end."""
    found: dict[Node, list[tuple[str, Node]]] = {}
    for cable, a, b in of:
        found.setdefault(a, []).append((cable, b))
        found.setdefault(b, []).append((cable, a))
    return found


def pieces(of: Iterable[Edge], beside: Mapping[Node, Sequence[tuple[str, Node]]] | None = None) -> list[Piece]:
    """Take a graph apart into its connected pieces, in the order their first cable stands in the file.

    Parameters
    ----------
    of
        Cables with their ends.
    beside
        What `neighbours` makes of them, where that is known already.
    """
    listed = list(of)
    around = neighbours(listed) if beside is None else beside
    home: dict[Node, int] = {}
    nodes: list[list[Node]] = []
    cables: list[list[str]] = []
    for cable, first, _ in listed:
        number = home.get(first)
        if number is None:
            number = home[first] = len(nodes)
            reached = [first]
            for node in reached:
                for _, other in around[node]:
                    if other not in home:
                        home[other] = number
                        reached.append(other)
            nodes.append(reached)
            cables.append([])
        cables[number].append(cable)
    return [Piece(tuple(there), tuple(joining)) for there, joining in zip(nodes, cables, strict=True)]


def a_loop(of: Iterable[Edge]) -> list[str]:
    """Name the cables of a loop, the shortest through the first cable that closes any; that one is last."""
    import networkx as nx  # noqa: PLC0415  (dear to import, and few plans have a loop)

    graph: nx.Graph[Node] = nx.Graph()
    parts: nx.utils.UnionFind[Node] = nx.utils.UnionFind()
    for cable, a, b in of:
        if a == b:
            return [cable]
        if graph.has_edge(a, b):
            return [graph[a][b]["cable"], cable]
        if parts[a] == parts[b]:
            way = nx.shortest_path(graph, a, b)
            return [*(graph[one][other]["cable"] for one, other in pairwise(way)), cable]
        parts.union(a, b)
        graph.add_edge(a, b, cable=cable)
    return []


def controllers_of(site: Site, buses: Sequence[Piece]) -> tuple[dict[str, str], dict[str, str]]:
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
    on_bus: dict[str, set[str]] = {}
    for piece in buses:
        there = {thing for thing in piece.things if thing in site.controllers}
        for thing, _ in piece.nodes:
            on_bus.setdefault(thing, set()).update(there)
    only = next(iter(site.controllers)) if len(site.controllers) == 1 else None
    group_controller = {group.id: group.controller or only for group in site.groups.values()}

    def settle(own: str | None, thing: str, groups: Iterable[str]) -> str | None:
        if own is not None:
            return own
        if len(found := on_bus.get(thing, ())) == 1:
            return next(iter(found))
        named = {group_controller[group] for group in groups if group_controller.get(group) is not None}
        if len(named) == 1:
            return named.pop()
        return only

    actuators = {a.id: settle(a.controller, a.id, site.groups_of.get(a.id, ())) for a in site.actuators.values()}
    sensors = {s.id: settle(s.controller, s.id, site.links.get(s.id, ())) for s in site.sensors.values()}
    return (
        {thing: controller for thing, controller in actuators.items() if controller is not None},
        {thing: controller for thing, controller in sensors.items() if controller is not None},
    )


class Topology:
    """The cable graphs of one site, worked out once."""

    def __init__(self, site: Site) -> None:
        self.site = site

    @cached_property
    def _bus_edges(self) -> list[Edge]:
        return list(edges(self.site, "bus"))

    @cached_property
    def buses(self) -> list[Piece]:
        """Connected pieces of cables that carry the bus, a controller's lines kept apart."""
        return pieces(self._bus_edges, self.beside_on_bus)

    @cached_property
    def beside_on_bus(self) -> dict[Node, list[tuple[str, Node]]]:
        """For each node on a bus its cables and what is at their other end."""
        return neighbours(self._bus_edges)

    @cached_property
    def terminated(self) -> frozenset[str]:
        """Things that carry a bus resistor: named as terminators, or controllers that have it built in."""
        controllers = self.site.controllers.values()
        return frozenset(self.site.terminators).union(c.id for c in controllers if c.bus_end_resistor == "built-in")

    @cached_property
    def power(self) -> list[Piece]:
        """Connected pieces of cables that carry power."""
        return pieces(self._power_edges, self.beside_on_power)

    @cached_property
    def _power_edges(self) -> list[Edge]:
        return list(edges(self.site, "power"))

    @cached_property
    def beside_on_power(self) -> dict[Node, list[tuple[str, Node]]]:
        """For each node on power cables its cables and what is at their other end."""
        return neighbours(self._power_edges)

    @cached_property
    def feeds(self) -> list[Feed]:
        """Every piece of power cables with its supplies."""
        supplies = self.site.supplies
        return [Feed(piece, tuple(thing for thing, _ in piece.nodes if thing in supplies)) for piece in self.power]

    @cached_property
    def feed_of(self) -> dict[str, Feed]:
        """Piece of power cables that each thing hangs on."""
        return {thing: feed for feed in self.feeds for thing, _ in feed.piece.nodes}

    @cached_property
    def unclear(self) -> tuple[str, ...]:
        """Cables whose ends or duties are not known: what they join is not known either."""
        return tuple(
            cable.id
            for cable in self.site.cables.values()
            if cable.carries is None or cable.from_ is None or cable.to is None
        )

    @cached_property
    def synchronised(self) -> list[Piece]:
        """Actuators that sync cables join."""
        return pieces(edges(self.site, "sync"))

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


def without_place(
    things: Mapping[Hashable, int], places: Mapping[Hashable, int], fits: Callable[[Hashable, Hashable], bool]
) -> int:
    """Count the things that find no place, when as many as possible do.

    Parameters
    ----------
    things, places
        How many there are of each kind.
    fits
        Whether a thing of one kind may have a place of another.
    """
    import networkx as nx  # noqa: PLC0415

    graph: nx.DiGraph[object] = nx.DiGraph()
    graph.add_nodes_from(("start", "end"))
    for thing, count in things.items():
        graph.add_edge("start", ("thing", thing), capacity=count)
        for place in places:
            if fits(thing, place):
                graph.add_edge(("thing", thing), ("place", place), capacity=count)
    for place, count in places.items():
        graph.add_edge(("place", place), "end", capacity=count)
    return sum(things.values()) - int(nx.maximum_flow_value(graph, "start", "end"))
