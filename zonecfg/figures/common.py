"""Whether the supplies along a bus share a common conductor, so that its voltages mean the same everywhere."""

from collections.abc import Mapping

from zonecfg.figures.bus import Bus
from zonecfg.graph import Topology, edges, pieces
from zonecfg.model.site import Site


def references(site: Site, topology: Topology) -> Mapping[str, int]:
    """Number the zero-volt references: things of one number are joined by power or by common conductors."""
    found = {thing: number for number, feed in enumerate(topology.feeds) for thing, _ in feed.piece.nodes}
    common = list(edges(site, "common"))
    if not common:
        return found
    joined = ((cable, _part(a[0], found), _part(b[0], found)) for cable, a, b in common)
    for number, piece in enumerate(pieces(joined), start=len(topology.feeds)):
        for kind, part in piece.nodes:
            if kind == "feed":
                found.update((thing, number) for thing, _ in topology.feeds[int(part)].piece.nodes)
            else:
                found[part] = number
    return found


def _part(thing: str, feed: Mapping[str, int]) -> tuple[str, str]:
    """Take a thing for its whole piece of power cables, where it hangs on one."""
    return ("feed", str(feed[thing])) if thing in feed else ("thing", thing)


def without_common(
    site: Site, topology: Topology, bus: Bus, reference: Mapping[str, int]
) -> tuple[str, str, str] | None:
    """Give two supplies of actuators on a bus that no common conductor joins, and the bus cable between their parts.

    Returns
    -------
    tuple of str or None
        Two supplies and a cable; None where all actuators are on one reference, as far as their supply is known.
    """
    first: tuple[str, int] | None = None
    for thing in bus.piece.things:
        feed = topology.feed_of.get(thing) if thing in site.actuators else None
        if feed is None or not feed.supplies:
            continue
        if first is None:
            first = feed.supplies[0], reference[thing]
        elif reference[thing] != first[1]:
            return first[0], feed.supplies[0], _between(site, bus, reference)
    return None


def _between(site: Site, bus: Bus, reference: Mapping[str, int]) -> str:
    """Name the first bus cable whose ends stand on different references, else the bus's first cable."""
    for cable in bus.piece.cables:
        one, other = site.cables[cable].from_ or "", site.cables[cable].to or ""
        if one in reference and other in reference and reference[one] != reference[other]:
            return cable
    return bus.piece.cables[0]
