"""One supply and all that it feeds: currents and voltages over every event."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from msgspec import Struct

from zonecfg.engineering.conductors import STANDARD_SIZES_MM2
from zonecfg.engineering.dc_mesh import Mesh
from zonecfg.engineering.dc_network import Tree, network
from zonecfg.figures.cables import cable_ohm
from zonecfg.graph.cables import Piece
from zonecfg.model.equipment import Cable, Supply
from zonecfg.results.finding import Unknown

Beside = Mapping[str, Sequence[tuple[str, str]]]


class Amp(Struct, frozen=True, gc=False):
    """The largest current somewhere, and the event it belongs to."""

    amp: float
    event: str


class Volt(Struct, frozen=True, gc=False):
    """The lowest voltage somewhere, and the event it belongs to."""

    volt: float
    event: str


class Network:
    """One supply and its piece of cables.

    Parameters
    ----------
    supply
        The only supply of the piece.
    piece
        Power cables that hang together.
    cables
        All cables of the plan.
    beside
        For each thing its power cables and what is at their other end.
    """

    def __init__(self, supply: Supply, piece: Piece[str], cables: Mapping[str, Cable], beside: Beside) -> None:
        self.supply = supply
        self.piece = piece
        self._beside = beside
        self.cables = [cables[cable] for cable in piece.cables]
        self.things = piece.nodes
        self.load_unknown: Unknown | None = None
        self.refused: Unknown | None = None
        """What of its voltages could not be read, where something else would be taken for it."""
        self.running_only: frozenset[str] = frozenset()
        self._idle: dict[str, float] = {}
        self._cases: dict[frozenset[tuple[str, float]], tuple[str, dict[str, float]]] = {}

    def without_events(self) -> "Network":
        """Give the same network at rest, for events of another kind."""
        twin = Network(self.supply, self.piece, {cable.id: cable for cable in self.cables}, self._beside)
        twin.rest(self._idle)
        twin.refused = self.refused
        return twin

    def rest(self, idle_a: Mapping[str, float]) -> None:
        """Say what everything on it draws at rest [A]."""
        self._idle = {thing: idle_a[thing] for thing in self.things if thing in idle_a}

    def add(self, event: str, moving: Iterable[tuple[str, float]]) -> None:
        """Add an event: the actuators of this network that move in it, with their current [A].

        Actuators that move together in an earlier event as well bring nothing new.
        """
        pairs = list(moving)
        key = frozenset(pairs)
        if key not in self._cases:
            idle = self._idle
            self._cases[key] = event, {thing: amp - idle.get(thing, 0.0) for thing, amp in pairs}

    @cached_property
    def volt_unknown(self) -> Unknown | None:
        """Why no voltage is known in it."""
        if self.load_unknown is not None or self.refused is not None:
            return self.load_unknown or self.refused
        if self.supply.output_v is None and self.supply.output_min_v is None:
            return Unknown("output_v of the supply is not given", (self.supply.id,))
        if self._as_built is not None:
            return None
        lacks: dict[str, dict[str, None]] = {}
        for cable in self.cables:
            if isinstance(ohm := cable_ohm(cable), Unknown):
                lacks.setdefault(ohm.because, {}).update(dict.fromkeys(ohm.ids))
        return next((Unknown(because, tuple(ids)) for because, ids in lacks.items()), None)

    @cached_property
    def source_ohm(self) -> Mapping[str, float]:
        """Resistance between the supply and everything on it [ohm]; empty where it is not known."""
        return {} if self._as_built is None else self._as_built.source_resistances()

    @cached_property
    def peak(self) -> Amp:
        """Largest current the supply gives, over all events."""
        rest = sum(self._idle.values())
        totals = [Amp(rest + sum(more.values()), event) for event, more in self._cases.values()]
        highest = max(total.amp for total in totals)
        return next(total for total in totals if total.amp >= highest * (1 - 1e-12))

    @cached_property
    def lowest(self) -> Mapping[str, Volt]:
        """Lowest voltage of everything on it, over all events; empty where it is not known."""
        return self._lowest(0.0)

    def with_conductors(self, at_least_mm2: float) -> Mapping[str, Volt]:
        """Lowest voltages, were every cable of at least a size; empty where that is not known."""
        if at_least_mm2 not in self._enlarged:
            self._enlarged[at_least_mm2] = self._lowest(at_least_mm2)
        return self._enlarged[at_least_mm2]

    def size_for(self, thing: str, least_v: float) -> tuple[float, float] | None:
        """Smallest standard size of the conductors at which a thing gets a voltage, and what it then gets."""
        smallest = min(self.ways.get(thing) or {0.0: 0.0})
        for size in STANDARD_SIZES_MM2:
            if size > smallest:
                volts = self.with_conductors(size)
                if thing in volts and volts[thing].volt >= least_v:
                    return size, volts[thing].volt
        return None

    @cached_property
    def ways(self) -> Mapping[str, Mapping[float, float]]:
        """For everything, the metres of each conductor size on the way from the supply, sizes as they come [m]."""
        found: dict[str, Mapping[float, float]] = {self.supply.id: {}}
        for thing, step in self._toward.items():
            if step is not None:
                nearer, cable = step
                size, length = cable.conductor_mm2 or 0.0, cable.length_m or 0.0
                found[thing] = {**found[nearer], size: found[nearer].get(size, 0.0) + length}
        return found

    @cached_property
    def carried(self) -> Mapping[str, Amp]:
        """Largest current of every cable, over all events; empty where a loop shares it in a way that is not known."""
        if self.load_unknown is not None:
            return {}
        if not self.has_loop and all(amp >= 0 for _, more in self._cases.values() for amp in more.values()):
            return self._carried_by_tree()
        found: dict[str, Amp] = {}
        for event, more in self._cases.values():
            for cable, amp in self._currents(more):
                if cable not in found or abs(amp) > found[cable].amp * (1 + 1e-12):
                    found[cable] = Amp(abs(amp), event)
        return found

    def _carried_by_tree(self) -> dict[str, Amp]:
        """Current at rest, and on top the largest that movers behind a cable add in one event."""
        toward = self._toward
        rest = {thing: self._idle.get(thing, 0.0) for thing in toward}
        for thing in reversed(toward):
            if (step := toward[thing]) is not None:
                rest[step[0]] += rest[thing]
        first = next(event for event, _ in self._cases.values())
        worst: dict[str, tuple[float, str]] = {}
        for event, more in self._cases.values():
            for thing, amp in self._summed(more).items():
                if thing not in worst or amp > worst[thing][0] + 1e-12:
                    worst[thing] = amp, event
        found = {}
        for thing, step in toward.items():
            if step is not None:
                amp, event = worst.get(thing, (0.0, first))
                found[step[1].id] = Amp(rest[thing] + amp, event)
        return found

    def _summed(self, more: Mapping[str, float]) -> Mapping[str, float]:
        """Sum the currents of movers along their ways to the supply, each thing on the way once."""
        toward, rank = self._toward, self._rank
        flow = dict(more)
        for mover in more:
            thing = mover
            while (step := toward[thing]) is not None and step[0] not in flow:
                thing = step[0]
                flow[thing] = 0.0
        for thing in sorted(flow, key=rank.__getitem__, reverse=True):
            if (step := toward[thing]) is not None:
                flow[step[0]] += flow[thing]
        return flow

    @cached_property
    def _rank(self) -> Mapping[str, int]:
        return {thing: number for number, thing in enumerate(self._toward)}

    def passes(self, thing: str) -> bool:
        """Whether current can run through a thing to others: whether it has two cables or more."""
        return sum([thing in (cable.from_, cable.to) for cable in self.cables]) > 1

    def passed_on(self, thing: str) -> Amp | None:
        """Largest current that runs through a thing to others; None where it is not known."""
        ends = {cable.id: cable.from_ == thing for cable in self.cables if thing in (cable.from_, cable.to)}
        if not self.carried:
            return None
        found = None
        for event, more in self._cases.values():
            out = [amp if ends[cable] else -amp for cable, amp in self._currents(more) if cable in ends]
            amp = sum(max(0.0, a) for a in out)
            if found is None or amp > found.amp * (1 + 1e-12):
                found = Amp(amp, event)
        return found

    @property
    def has_loop(self) -> bool:
        """Whether current can go two ways."""
        return self.piece.has_loop

    @cached_property
    def _enlarged(self) -> dict[float, Mapping[str, Volt]]:
        return {}

    @cached_property
    def _as_built(self) -> Tree[str] | Mesh[str] | None:
        return self._solver(0.0)

    def _solver(self, at_least_mm2: float) -> Tree[str] | Mesh[str] | None:
        edges = []
        for cable in self.cables:
            ohm = cable_ohm(cable, at_least_mm2)
            if isinstance(ohm, Unknown) or cable.from_ is None or cable.to is None:
                return None
            edges.append((cable.from_, cable.to, ohm))
        return network(edges, self.supply.id)

    def _lowest(self, at_least_mm2: float) -> Mapping[str, Volt]:
        source = self.supply.output_v if self.supply.output_min_v is None else self.supply.output_min_v
        solver = self._solver(at_least_mm2) if at_least_mm2 else self._as_built
        if self.volt_unknown is not None or solver is None or source is None:
            return {}
        # What everything draws at rest counts once; what moves comes on top, and drops add.
        less = {t: amp for _, more in self._cases.values() for t, amp in more.items() if amp < 0}
        idle = {t: amp + less.get(t, 0.0) for t, amp in self._idle.items()} if less else self._idle
        at_rest = solver.voltages(idle, source)
        on_top = [more for _, more in self._cases.values()]
        if less:  # a type that draws less while it moves
            on_top = [
                {**{t: -a for t, a in less.items()}, **{t: a - less.get(t, 0.0) for t, a in more.items()}}
                for more in on_top
            ]
        names = [event for event, _ in self._cases.values()]
        return {
            thing: Volt(at_rest[thing] - drop, names[max(case, 0)])
            for thing, (drop, case) in solver.worst_drops(on_top).items()
        }

    @cached_property
    def _toward(self) -> dict[str, tuple[str, Cable] | None]:
        """For everything the next thing toward the supply and the cable to it, by fewest cables, the nearest first."""
        cables = {cable.id: cable for cable in self.cables}
        toward: dict[str, tuple[str, Cable] | None] = {self.supply.id: None}
        waiting = [self.supply.id]
        for thing in waiting:
            for cable, other in self._beside[thing]:
                if other not in toward:
                    toward[other] = thing, cables[cable]
                    waiting.append(other)
        return toward

    def _currents(self, more: Mapping[str, float]) -> Iterable[tuple[str, float]]:
        """Current of every cable in an event, positive from its first end to its second."""
        loads = {**self._idle, **{thing: self._idle.get(thing, 0.0) + amp for thing, amp in more.items()}}
        if self.has_loop:
            if (solver := self._as_built) is None:
                return []
            return zip(self.piece.cables, solver.currents(loads), strict=True)
        found = []
        flow = dict.fromkeys(self._toward, 0.0) | loads
        for thing in reversed(self._toward):
            if (step := self._toward[thing]) is not None:
                nearer, cable = step
                flow[nearer] += flow[thing]
                found.append((cable.id, flow[thing] if cable.to == thing else -flow[thing]))
        return found
