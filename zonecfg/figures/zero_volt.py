"""Whether the supplies along a bus share a common conductor, so that its voltages mean the same everywhere."""

from collections.abc import Mapping

from zonecfg.figures.bus import Bus
from zonecfg.graph.cables import pieces
from zonecfg.graph.topology import Topology
from zonecfg.model.site import Site


def references(topology: Topology) -> Mapping[str, int]:
    """Number the zero-volt references: things of one number are joined by power or by common conductors."""
    found = {thing: number for number, feed in enumerate(topology.feeds) for thing in feed.piece.nodes}
    common = topology.edges["common"].values()
    if not common:
        return found
    joined = ((cable, _part(a, found), _part(b, found)) for cable, a, b in common)
    for number, piece in enumerate(pieces(joined), start=len(topology.feeds)):
        for kind, part in piece.nodes:
            if kind == "feed":
                found.update((thing, number) for thing in topology.feeds[int(part)].piece.nodes)
            else:
                found[part] = number
    return found


def _part(thing: str, feed: Mapping[str, int]) -> tuple[str, str]:
    """Take a thing for its whole piece of power cables, where it hangs on one."""
    return ("feed", str(feed[thing])) if thing in feed else ("thing", thing)


def without_common(
    site: Site, topology: Topology, bus: Bus, reference: Mapping[str, int]
) -> tuple[str, str, tuple[str, ...]] | None:
    """Give two supplies of actuators on a bus that no common conductor joins, and the bus cables between their parts.

    Returns
    -------
    tuple or None
        Two supplies and the cables; None where all actuators are on one reference, as far as their supply is known.
    """
    first: tuple[str, int] | None = None
    for thing in bus.things:
        feed = topology.feed_of.get(thing) if thing in site.actuators else None
        if feed is None or not feed.supplies:
            continue
        if first is None:
            first = feed.supplies[0], reference[thing]
        elif reference[thing] != first[1]:
            return first[0], feed.supplies[0], _between(site, bus, reference, first[1])
    return None


def _between(site: Site, bus: Bus, reference: Mapping[str, int], start: int) -> tuple[str, ...]:
    """Name the bus cables that lead from one reference to the next, through boxes that are on none."""
    met: dict[str, list[tuple[str, str]]] = {}
    for cable in bus.piece.cables:
        one, other = site.cables[cable].from_ or "", site.cables[cable].to or ""
        met.setdefault(one, []).append((cable, other))
        met.setdefault(other, []).append((cable, one))
    way: dict[str, tuple[str, ...]] = {thing: () for thing in met if reference.get(thing) == start}
    things = list(way)
    for thing in things:
        for cable, other in met[thing]:
            if other in way:
                continue
            way[other] = (*way[thing], cable)
            if other in reference:
                return way[other]
            things.append(other)
    return bus.piece.cables[:1]
