"""Cables as edges: the connected pieces of one duty, and a loop among them."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Generic, TypeVar, get_args

from msgspec import Struct

from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.model.wiring import Duty
from zonecfg.results.pointer import join

N = TypeVar("N", bound=Hashable)
"""What cables meet at: a thing by its id, or a port."""

Port = tuple[str, str]
"""A thing on a bus, and its line; the line is empty for all but controllers."""

Edge = tuple[str, N, N]
"""A cable with its two ends."""


class Piece(Struct, Generic[N], frozen=True, gc=False):
    """Cables that hang together, with the nodes they join."""

    nodes: tuple[N, ...]
    cables: tuple[str, ...]

    @property
    def has_loop(self) -> bool:
        """Whether current or signal can go round: more cables than a tree has."""
        return len(self.cables) >= len(self.nodes)


def home_of(site: Site, thing: str) -> str | None:
    """Section that holds a thing cables can name."""
    return next((section for section in grammar().nodes if thing in getattr(site, section)), None)


def thing_at(site: Site, thing: str) -> str:
    """Pointer to a thing cables can name; to nowhere in particular where the plan does not hold it."""
    section = home_of(site, thing)
    return "" if section is None else join(section, thing)


def as_subject(site: Site, thing: str) -> str:
    """Name a thing cables can name with its section."""
    return f"{home_of(site, thing)}/{thing}"


def edges(site: Site) -> Mapping[Duty, Mapping[str, Edge[str]]]:
    """Give for each duty its cables by id with the things at their ends, in file order."""
    found: dict[Duty, dict[str, Edge[str]]] = {duty: {} for duty in get_args(Duty)}
    for cable in site.cables.values():
        if cable.from_ is not None and cable.to is not None:
            edge = cable.id, cable.from_, cable.to
            for duty in cable.carries or ():
                found[duty][cable.id] = edge
    return found


def between_ports(site: Site, of: Iterable[Edge[str]]) -> list[Edge[Port]]:
    """Give bus cables the ports at their ends."""
    cables, controllers = site.cables, site.controllers
    return [
        (
            cable,
            (one, (cables[cable].line or "1") if one in controllers else ""),
            (other, (cables[cable].line or "1") if other in controllers else ""),
        )
        for cable, one, other in of
    ]


def neighbours(of: Iterable[Edge[N]]) -> dict[N, list[tuple[str, N]]]:
    """For each node its cables and what is at their other end."""
    found: dict[N, list[tuple[str, N]]] = {}
    for cable, a, b in of:
        found.setdefault(a, []).append((cable, b))
        found.setdefault(b, []).append((cable, a))
    return found


def pieces(of: Iterable[Edge[N]], beside: Mapping[N, Sequence[tuple[str, N]]] | None = None) -> list[Piece[N]]:
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
    home: dict[N, int] = {}
    nodes: list[list[N]] = []
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


def a_loop(of: Iterable[Edge[N]]) -> list[str]:
    """Name the cables of a loop, the shortest through the first cable that closes any; that one is last."""
    import networkx as nx  # noqa: PLC0415  (dear to import, and few plans have a loop)

    graph: nx.Graph[N] = nx.Graph()
    parts: nx.utils.UnionFind[N] = nx.utils.UnionFind()
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
