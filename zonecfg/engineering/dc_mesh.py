"""Voltages and currents in a network with loops: nodal analysis by taking nodes out one by one.

Taking a node out joins its neighbours, star to mesh, and hands its load to them in proportion to their
conductances. Everything added is positive, so no digits cancel, whatever the spread of resistances.
"""

import heapq
from collections.abc import Collection, Hashable, Mapping, Sequence
from math import isfinite
from typing import Generic, TypeVar

N = TypeVar("N", bound=Hashable)


def refuse_stranded(loads: Mapping[N, float], fed: Collection[N]) -> None:
    """Refuse loads that no path joins to the source.

    Parameters
    ----------
    loads : Mapping[N, float]
        Current drawn at each node [A].
    fed : Collection[N]
        Nodes with a path to the source [-].

    Raises
    ------
    ValueError
        A node that draws current is not among them.

    References
    ----------
    Kirchhoff's current law has no answer for such a node.

    Examples
    --------
    >>> refuse_stranded({"a": 1.0}, {"a", "supply"})
    """
    for node, amp in loads.items():
        if amp and node not in fed:
            raise ValueError(f"{node} draws {amp} A and has no path to the source")


class Mesh(Generic[N]):
    """A network with any loops.

    Parameters
    ----------
    cables : Sequence[tuple[N, N, float]]
        From, to and resistance there and back [ohm], 0 and more.
    source : N
        The node that feeds all others [-].

    Raises
    ------
    ValueError
        A resistance that is negative or not finite.

    References
    ----------
    Nodal analysis; star-mesh transform (Rosen, 1924), nodes of least degree first. Branches and rings cost
    O(n·log n) to build and O(n) a load case; k nodes all joined to each other cost k³ and k².
    """

    def __init__(self, cables: Sequence[tuple[N, N, float]], source: N) -> None:
        for first, second, ohm in cables:
            if not (ohm >= 0 and isfinite(ohm)):
                raise ValueError(f"cable {first}-{second} has {ohm} ohm")
        self._cables = cables
        self._merge(source)
        self._steps = self._eliminate()

    def _merge(self, source: N) -> None:
        """Give each node the source feeds a number: one to all that 0 ohm joins, 0 to the source."""
        beside: dict[N, list[tuple[N, bool]]] = {source: []}
        for first, second, ohm in self._cables:
            beside.setdefault(first, []).append((second, ohm == 0))
            beside.setdefault(second, []).append((first, ohm == 0))
        self._number: dict[N, int] = {}
        waiting, count = [source], 0
        while waiting:
            start = waiting.pop()
            if start in self._number:
                continue
            self._number[start] = count
            joined = [start]
            for node in joined:
                for other, zero in beside[node]:
                    if other in self._number:
                        continue
                    if zero:
                        self._number[other] = count
                        joined.append(other)
                    else:
                        waiting.append(other)
            count += 1

    def _eliminate(self) -> list[tuple[int, float, list[tuple[int, float]]]]:
        """Take out all nodes but the source: (node, its conductance, its neighbours then)."""
        count = max(self._number.values()) + 1
        siemens: list[dict[int, float]] = [{} for _ in range(count)]
        for first, second, ohm in self._cables:
            i, j = self._number.get(first, 0), self._number.get(second, 0)
            if i != j:
                siemens[i][j] = siemens[j][i] = siemens[i].get(j, 0.0) + 1 / ohm
        heap = [(len(siemens[i]), i) for i in range(1, count)]
        heapq.heapify(heap)
        out = [False] * count
        steps = []
        while heap:
            degree, k = heapq.heappop(heap)
            if out[k]:
                continue
            if degree != len(siemens[k]):
                heapq.heappush(heap, (len(siemens[k]), k))
                continue
            out[k] = True
            around = list(siemens[k].items())
            total = sum(g for _, g in around)
            for position, (i, g) in enumerate(around):
                del siemens[i][k]
                for j, h in around[:position]:
                    siemens[i][j] = siemens[j][i] = siemens[i].get(j, 0.0) + g * h / total
            for i, _ in around:
                if i:
                    heapq.heappush(heap, (len(siemens[i]), i))
            steps.append((k, total, around))
        return steps

    def _drops(self, loads: Mapping[N, float]) -> list[float]:
        """Voltage below the source's, by number."""
        refuse_stranded(loads, self._number)
        amp = [0.0] * (len(self._steps) + 1)
        for node, drawn in loads.items():
            if drawn:
                amp[self._number[node]] += drawn
        for k, total, around in self._steps:
            for i, g in around:
                amp[i] += amp[k] * g / total
        drop = [0.0] * len(amp)
        for k, total, around in reversed(self._steps):
            drop[k] = (sum(g * drop[i] for i, g in around) + amp[k]) / total
        return drop

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
        Nodal analysis.
        """
        drop = self._drops(loads)
        return {node: source_v - drop[number] for node, number in self._number.items()}

    def currents(self, loads: Mapping[N, float]) -> list[float]:
        """Currents in all cables.

        Cables of 0 ohm that form a loop share the current as equal small resistances would.

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
        Ohm's law; Kirchhoff's current law within nodes joined by 0 ohm.
        """
        drop = self._drops(loads)
        currents = [0.0] * len(self._cables)
        drawn = {node: loads.get(node, 0.0) for node in self._number}
        joined: dict[int, list[int]] = {}
        for place, (first, second, ohm) in enumerate(self._cables):
            if first not in drawn or first == second:
                continue
            if ohm == 0:
                joined.setdefault(self._number[first], []).append(place)
                continue
            currents[place] = amp = (drop[self._number[second]] - drop[self._number[first]]) / ohm
            drawn[first] += amp
            drawn[second] -= amp
        source = next(iter(self._number))
        for number, places in joined.items():
            start = source if number == 0 else self._cables[places[0]][0]
            inner = Mesh([(*self._cables[place][:2], 1.0) for place in places], start)
            within = {node: drawn[node] for place in places for node in self._cables[place][:2]}
            for place, amp in zip(places, inner.currents(within), strict=True):
                currents[place] = amp
        return currents
