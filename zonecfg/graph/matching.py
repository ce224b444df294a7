"""As many things to their places as possible."""

from collections.abc import Callable, Hashable, Mapping


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
