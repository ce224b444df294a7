"""Reads a bus as a line: its two ends, the stubs beside it, and where it branches."""

from collections.abc import Mapping, Sequence, Set

from msgspec import Struct

from zonecfg.graph.cables import Piece, Port
from zonecfg.model.site import Site

Beside = Mapping[Port, Sequence[tuple[str, Port]]]
Leg = tuple[str, Port]


class Stub(Struct, frozen=True, gc=False):
    """A single cable to a device beside the line."""

    cable: str
    device: str
    at: str


class Line(Struct, frozen=True, gc=False):
    """A bus without a loop. It has no ``ends`` where it branches; ``unclear`` cables may be stubs or branches."""

    ends: tuple[Port, ...]
    stubs: tuple[Stub, ...]
    long_stubs: tuple[Stub, ...]
    branches: tuple[Port, ...]
    unclear: tuple[str, ...]


def line_of(site: Site, piece: Piece[Port], beside: Beside, terminated: Set[str], stub_m: float | None) -> Line:
    """Read a piece of bus that has no loop.

    A line goes on by two cables at every node. Further cables to devices without any other are stubs, where they are
    no longer than allowed. Which of the cables at a node are the line: those that lead on; then those to a device
    with a resistor; then those too long for a stub, to a controller before others; then the longer ones. A longer cable
    to a single device is a stub too long where the line is certain, by resistors and controllers at its ends; else the
    bus branches there.

    Parameters
    ----------
    site
        The site.
    piece
        A piece of bus cables without a loop.
    beside
        For each node its bus cables and what is at their other end.
    terminated
        Things that carry a bus resistor.
    stub_m
        Longest stub allowed [m]; None where it is not known.
    """

    def claim(leg: Leg) -> tuple[bool, bool, bool, float]:
        cable, (thing, _) = leg
        length = site.cables[cable].length_m or 0.0
        return thing not in terminated, length <= (stub_m or 0.0), thing not in site.controllers, -length

    def certain(leg: Leg) -> bool:
        return leg[1][0] in terminated or leg[1][0] in site.controllers

    stubs: list[Stub] = []
    long_stubs: list[Stub] = []
    branches: list[Port] = []
    unclear: list[str] = []
    for node in piece.nodes:
        if len(beside[node]) < 3:
            continue
        leading = [leg for leg in beside[node] if len(beside[leg[1]]) > 1]
        single = sorted((leg for leg in beside[node] if len(beside[leg[1]]) == 1), key=claim)
        line = single[: max(0, 2 - len(leading))]
        branching = len(leading) > 2
        for leg in single[len(line) :]:
            length, stub = site.cables[leg[0]].length_m, Stub(leg[0], leg[1][0], node[0])
            if length is None or stub_m is None:
                unclear.append(leg[0])
            elif length <= stub_m:
                stubs.append(stub)
            elif all(map(certain, line)) and not branching and not certain(leg):
                long_stubs.append(stub)
            else:
                branching = True
        if branching:
            branches.append(node)
    if branches or unclear:
        return Line((), tuple(stubs), tuple(long_stubs), tuple(branches), tuple(unclear))
    aside = {stub.cable for stub in (*stubs, *long_stubs)}
    ends = [node for node in piece.nodes if len(beside[node]) == 1 and beside[node][0][0] not in aside]
    if len(ends) == 2:
        for number, end in enumerate(ends):
            if (hop := _last_hop(site, end, beside, terminated, stub_m)) is not None and hop[1] not in ends:
                stubs.append(Stub(hop[0], end[0], hop[1][0]))
                ends[number] = hop[1]
    ends.sort(key=lambda node: (node[0] not in site.controllers, node))
    return Line(tuple(ends), tuple(stubs), tuple(long_stubs), (), ())


def _last_hop(site: Site, end: Port, beside: Beside, terminated: Set[str], stub_m: float | None) -> Leg | None:
    """The last cable of a line and the node before it, where that one carries the resistor and the cable is a stub."""
    cable, before = beside[end][0]
    length = site.cables[cable].length_m
    if stub_m is None or length is None or length > stub_m or end[0] in terminated or end[0] in site.controllers:
        return None
    return (cable, before) if before[0] in terminated else None
