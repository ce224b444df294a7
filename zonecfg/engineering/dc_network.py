"""Voltages and currents of loads that draw constant current through cables from one source.

`Tree` and `Mesh` are built once and asked for many load cases; `solve` picks one. A node is any hashable
name. A cable is (node, node, ohm), its resistance there and back; 0 ohm is allowed. Cables without a path to
the source carry nothing, and their nodes are absent from the answers.
"""

from collections.abc import Hashable, Mapping, Sequence
from math import isfinite
from typing import Generic, TypeVar

from zonecfg.engineering.dc_mesh import Mesh, refuse_stranded

N = TypeVar("N", bound=Hashable)


class Tree(Generic[N]):
    """A network without loops.

    Parameters
    ----------
    cables : Sequence[tuple[N, N, float]]
        From, to and resistance there and back [ohm], 0 and more.
    source : N
        The node that feeds all others [-].

    Raises
    ------
    ValueError
        A loop, or a resistance that is negative or not finite.

    References
    ----------
    Kirchhoff's laws. Building, `voltages` and `currents` are O(n) in time and memory.
    """

    def __init__(self, cables: Sequence[tuple[N, N, float]], source: N) -> None:
        beside: dict[N, list[tuple[N, int]]] = {source: []}
        for number, (first, second, ohm) in enumerate(cables):
            if not (ohm >= 0 and isfinite(ohm)):
                raise ValueError(f"cable {first}-{second} has {ohm} ohm")
            beside.setdefault(first, []).append((second, number))
            beside.setdefault(second, []).append((first, number))
        self.nodes = [source]  # parents before children
        self._place = {source: 0}
        self._parent = [0]
        self._ohm = [0.0]
        self._cable = [-1]
        self._cables = cables
        for node in self.nodes:
            here = self._place[node]
            for other, number in beside[node]:
                if number == self._cable[here]:
                    continue
                if other in self._place:
                    raise ValueError(f"cable {cables[number][0]}-{cables[number][1]} closes a loop")
                self._place[other] = len(self.nodes)
                self.nodes.append(other)
                self._parent.append(here)
                self._ohm.append(cables[number][2])
                self._cable.append(number)

    def voltages(self, loads: Mapping[N, float], source_v: float) -> dict[N, float]:
        """Voltage at every node that the source feeds.

        Parameters
        ----------
        loads : Mapping[N, float]
            Current drawn at each node [A].
        source_v : float
            Voltage of the source [V].

        Returns
        -------
        dict[N, float]
            Node to voltage [V].

        Raises
        ------
        ValueError
            A node that draws current has no path to the source.

        References
        ----------
        Kirchhoff's laws.
        """
        drop = self._inflow(loads)
        drop[0] = 0.0
        for place, (parent, ohm) in enumerate(zip(self._parent, self._ohm, strict=True)):
            drop[place] = drop[parent] + drop[place] * ohm
        return {node: source_v - fall for node, fall in zip(self.nodes, drop, strict=True)}

    def currents(self, loads: Mapping[N, float]) -> list[float]:
        """Currents in all cables.

        Parameters
        ----------
        loads : Mapping[N, float]
            Current drawn at each node [A].

        Returns
        -------
        list[float]
            In the order of the cables, positive from the cable's first node to its second [A].

        Raises
        ------
        ValueError
            A node that draws current has no path to the source.

        References
        ----------
        Kirchhoff's current law.
        """
        inflow = self._inflow(loads)
        currents = [0.0] * len(self._cables)
        for place in range(1, len(self.nodes)):
            number = self._cable[place]
            forward = self._cables[number][1] == self.nodes[place]
            currents[number] = inflow[place] if forward else -inflow[place]
        return currents

    def _inflow(self, loads: Mapping[N, float]) -> list[float]:
        """Sum the current into every node through its parent's cable."""
        refuse_stranded(loads, self._place)
        inflow = [0.0] * len(self.nodes)
        for node, amp in loads.items():
            if amp:
                inflow[self._place[node]] = amp
        for place in range(len(inflow) - 1, 0, -1):
            inflow[self._parent[place]] += inflow[place]
        return inflow


def network(cables: Sequence[tuple[N, N, float]], source: N) -> Tree[N] | Mesh[N]:
    """Build the cheaper structure that holds a network.

    Parameters
    ----------
    cables : Sequence[tuple[N, N, float]]
        From, to and resistance there and back [ohm], 0 and more.
    source : N
        The node that feeds all others [-].

    Returns
    -------
    Tree[N] | Mesh[N]
        A tree where nothing the source feeds is looped, else a mesh; both give voltages [V] and currents [A].

    Raises
    ------
    ValueError
        A resistance that is negative or not finite.

    References
    ----------
    Kirchhoff's laws.

    Examples
    --------
    Two cables of 1 ohm in a row and 2 A at the end: 2 V lost in each.

    >>> network([("supply", "a", 1.0), ("a", "b", 1.0)], "supply").voltages({"b": 2.0}, 24.0)["b"]
    20.0
    """
    try:
        return Tree(cables, source)
    except ValueError:
        return Mesh(cables, source)
