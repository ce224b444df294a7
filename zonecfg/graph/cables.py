"""Cables as edges: the connected pieces of one duty, and a loop among them."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import get_args

from msgspec import Struct

from zonecfg.model.equipment import Cable, Duty
from zonecfg.model.sections import NODES
from zonecfg.model.site import Site
from zonecfg.results.pointer import join

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
        return list(dict.fromkeys([node for node, _ in self.nodes]))


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


def edges(site: Site) -> Mapping[Duty, Sequence[Edge]]:
    """Give for each duty its cables with their two ends, in file order; a cable of several duties is in each."""
    found: dict[Duty, dict[str, Edge]] = {duty: {} for duty in get_args(Duty)}
    for cable in site.cables.values():
        for duty in cable.carries or ():
            if (both := ends(site, cable, duty)) is not None:
                found[duty][cable.id] = (cable.id, *both)
    return {duty: list(cables.values()) for duty, cables in found.items()}


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
