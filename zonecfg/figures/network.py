"""One supply and all that it feeds: currents and voltages at the worst moment of every place."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from functools import cached_property
from math import fsum

from msgspec import Struct

from zonecfg.engineering.conductors import next_larger_size
from zonecfg.engineering.dc_mesh import Mesh
from zonecfg.engineering.dc_network import Tree, network
from zonecfg.figures.cables import cable_ohm, size_of
from zonecfg.figures.worst_moment import LoadMoment, Share
from zonecfg.graph.cables import Piece
from zonecfg.model.wiring import Cable, Supply
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


class WorstCurrents(Struct, frozen=True):
    """Who moves, and the current of each cable then [A]."""

    moving: tuple[str, ...]
    through: Mapping[str, float]


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
        self.moments: Sequence[LoadMoment] = ()
        """What sets sashes moving; of equally bad ones the first is named."""

    def rest(self, idle_a: Mapping[str, float]) -> None:
        """Say what everything on it draws at rest [A]."""
        self._idle = {thing: idle_a[thing] for thing in self.things if thing in idle_a}

    @cached_property
    def volt_unknown(self) -> Unknown | None:
        """Why no voltage is known in it."""
        if self.load_unknown is not None or self.refused is not None:
            return self.load_unknown or self.refused
        if self._source is None:
            what = "output_min_v of the battery" if self.supply.battery else "output_v of the supply"
            return Unknown(f"{what} is not given", (self.supply.id,))
        if self._as_built is not None:
            return None
        lacks: dict[str, dict[str, None]] = {}
        for cable in self.cables:
            if isinstance(ohm := cable_ohm(cable), Unknown):
                lacks.setdefault(ohm.because, {}).update(dict.fromkeys(ohm.ids))
        return next((Unknown(because, tuple(ids)) for because, ids in lacks.items()), None)

    def _worst(self, share: Share) -> Amp:
        """Largest sum of extra currents x share over all moments."""
        found = Amp(0.0, self.moments[0].name)
        for number, moment in enumerate(self.moments):
            amp = moment.worst(share)
            if not number or amp > found.amp * (1 + 1e-12):
                found = Amp(amp, moment.name)
        return found

    @cached_property
    def peak(self) -> Amp:
        """Largest current the supply gives, over all moments."""
        extra = self._worst(lambda _: 1.0)
        return Amp(fsum(self._idle.values()) + extra.amp, extra.event)

    def lowest(self, thing: str) -> Volt | None:
        """Lowest voltage of something on it, over all moments; None where it is not known."""
        if thing not in self._found:
            volt = self._all_at_once.get(thing) if self._unqueued else None
            self._found[thing] = (
                Volt(volt, self.moments[0].name) if volt is not None else self._lowest(thing, self._as_built)
            )
        return self._found[thing]

    @cached_property
    def _unqueued(self) -> bool:
        """Whether the worst moment of every place is the one at which all moves: one solution gives all voltages."""
        return len(self.moments) == 1 and self.moments[0].all_together

    def below(self, thing: str, least_v: float) -> Volt | None:
        """Lowest voltage of something, where it is below a least one; None where it is not, or is not known.

        Were all that moves to move at once, no voltage would be higher: what keeps its least then is sought no further.
        """
        bound = self._all_at_once.get(thing)
        if bound is None or bound >= least_v * (1 - 1e-9):
            return None
        found = self.lowest(thing)
        return found if found is not None and found.volt < least_v * (1 - 1e-9) else None

    def with_conductors(self, at_least_mm2: float, thing: str) -> Volt | None:
        """Lowest voltage of something, were every cable of at least a size; None where that is not known."""
        if at_least_mm2 not in self._enlarged:
            self._enlarged[at_least_mm2] = self._solver(at_least_mm2)
        return self._lowest(thing, self._enlarged[at_least_mm2])

    def size_for(self, thing: str, least_v: float) -> tuple[float, float] | None:
        """Smallest standard size of the conductors at which a thing gets a voltage, and what it then gets."""
        smallest = min(self.ways.get(thing) or {0.0: 0.0})
        size = next_larger_size(smallest)
        while size is not None:
            volt = self.with_conductors(size, thing)
            if volt is not None and volt.volt >= least_v:
                return size, volt.volt
            size = next_larger_size(size)
        return None

    def at_worst(self, thing: str) -> tuple[str, float, "WorstCurrents"]:
        """Give the event of something's lowest voltage, the supply's voltage, and what then runs through each cable.

        Raises
        ------
        ValueError
            Its voltage is not known.
        """
        if self.volt_unknown is not None or self._as_built is None or self._source is None:
            raise ValueError(f"no voltage is known of {thing}")
        ohm = self._transfer(thing, self._as_built)

        def share(other: str) -> float:
            return ohm.get(other, 0.0)

        moment = max(self.moments, key=lambda moment: moment.worst(share))
        extra = moment.movers(share)
        loads = dict(self._idle)
        for mover, amp in extra.items():
            loads[mover] = loads.get(mover, 0.0) + amp
        through = dict(zip(self.piece.cables, self._as_built.currents(loads), strict=True))
        return moment.name, self._source, WorstCurrents(tuple(extra), through)

    def at_peak(self) -> tuple[float, dict[str, float]]:
        """Give what everything draws at rest together, and what those that move draw more, when most is drawn [A]."""
        moment = max(self.moments, key=lambda moment: moment.worst(lambda _: 1.0))
        return fsum(self._idle.values()), moment.movers(lambda _: 1.0)

    def over(self, cases: Sequence[tuple[str, Mapping[str, float]]]) -> tuple[Amp, Mapping[str, Volt]]:
        """Play given cases, each with what its movers draw [A]: the largest current, the lowest voltages (if known)."""
        idle = self._idle
        extra = [{thing: amp - idle.get(thing, 0.0) for thing, amp in moving.items()} for _, moving in cases]
        totals = [sum(more.values()) for more in extra]
        largest = max(range(len(cases)), key=totals.__getitem__)
        peak = Amp(fsum(idle.values()) + totals[largest], cases[largest][0])
        if self.volt_unknown is not None or self._as_built is None or self._source is None:
            return peak, {}
        volts: dict[str, Volt] = {}
        for (name, _), more in zip(cases, extra, strict=True):
            loads = {**idle, **{thing: idle.get(thing, 0.0) + amp for thing, amp in more.items()}}
            for thing, volt in self._as_built.voltages(loads, self._source).items():
                if thing not in volts or volt < volts[thing].volt:
                    volts[thing] = Volt(volt, name)
        return peak, volts

    @cached_property
    def ways(self) -> Mapping[str, Mapping[float, float]]:
        """For everything, the metres of each conductor size on the way from the supply, sizes as they come [m]."""
        found: dict[str, Mapping[float, float]] = {self.supply.id: {}}
        for thing, step in self._toward.items():
            if step is not None:
                nearer, cable = step
                size, length = round(size_of(cable) or 0.0, 3), cable.length_m or 0.0
                found[thing] = {**found[nearer], size: found[nearer].get(size, 0.0) + length}
        return found

    def carried(self, cable: Cable) -> Amp | None:
        """Largest current of a cable, over all moments; None where a loop shares it in a way that is not known."""
        if self.load_unknown is not None:
            return None
        if (through := self._through(cable)) is None:
            return None
        rest = fsum([amp * through(thing) for thing, amp in self._idle.items()])
        there = self._worst(through)
        back = self._worst(lambda thing: -through(thing))
        if there.amp + rest >= back.amp - rest:
            return Amp(abs(rest + there.amp), there.event)
        return Amp(back.amp - rest, back.event)

    def _through(self, cable: Cable) -> Share | None:
        """What of a load at each thing runs through a cable, toward its second end."""
        if not self.has_loop:
            behind, sign = self._behind(cable)
            return lambda thing: sign if thing in behind else 0.0
        ohm = cable_ohm(cable)
        if self._as_built is None or cable.from_ is None or cable.to is None or isinstance(ohm, Unknown):
            return None
        if not ohm:  # its ends are one: what it carries is no quotient of volts and ohms
            solver, place = self._as_built, self.piece.cables.index(cable.id)
            shares = {thing: solver.currents({thing: 1.0})[place] for thing in self.things if thing != self.supply.id}
            return lambda thing: shares.get(thing, 0.0)
        # By reciprocity the drop at an end that a load elsewhere makes is the drop there that a load at the end makes.
        at_first, at_second = self._transfer(cable.from_, self._as_built), self._transfer(cable.to, self._as_built)
        return lambda thing: (at_second.get(thing, 0.0) - at_first.get(thing, 0.0)) / ohm

    def _behind(self, cable: Cable) -> tuple[AbstractSet[str], float]:
        """Everything behind a cable of a tree, and 1 where the cable leads from its first end to it, else -1."""
        step = self._toward.get(cable.to or "")
        inner, sign = (cable.to, 1.0) if step is not None and step[1].id == cable.id else (cable.from_, -1.0)
        waiting = [inner or ""]
        found = set(waiting)
        for thing in waiting:
            for name, other in self._beside[thing]:
                if name != cable.id and other not in found:
                    found.add(other)
                    waiting.append(other)
        return found, sign

    def way_to(self, thing: str) -> Sequence[str]:
        """Cables between the supply and a thing, by the fewest, the nearest first."""
        found = []
        while (step := self._toward.get(thing)) is not None:
            thing, cable = step
            found.append(cable.id)
        return found[::-1]

    def passes(self, thing: str) -> bool:
        """Whether current can run through a thing to others: whether it has two cables or more."""
        return sum([thing in (cable.from_, cable.to) for cable in self.cables]) > 1

    def passed_on(self, thing: str) -> Amp | None:
        """Largest current that runs through a thing to others; None where it is not known.

        In a loop the largest of each cable that leads away are added, which is never less.
        """
        if self.load_unknown is not None:
            return None
        cables = [cable for cable in self.cables if thing in (cable.from_, cable.to)]
        if not self.has_loop:
            behind: set[str] = set()
            for cable in cables:
                far = cable.to if cable.from_ == thing else cable.from_
                beyond, _ = self._behind(cable)
                if far in beyond:
                    behind |= beyond
            extra = self._worst(lambda other: 1.0 if other in behind else 0.0)
            return Amp(fsum([amp for other, amp in self._idle.items() if other in behind]) + extra.amp, extra.event)
        total, event = 0.0, self.moments[0].name
        for cable in cables:
            if (through := self._through(cable)) is None:
                return None
            sign = 1.0 if cable.from_ == thing else -1.0
            out = self._worst(_signed(through, sign))
            rest = sign * fsum([amp * through(other) for other, amp in self._idle.items()])
            total, event = total + max(0.0, rest + out.amp), out.event
        return Amp(min(total, self.peak.amp), event)

    @property
    def has_loop(self) -> bool:
        """Whether current can go two ways."""
        return self.piece.has_loop

    @cached_property
    def _enlarged(self) -> dict[float, Tree[str] | Mesh[str] | None]:
        return {}

    @cached_property
    def _found(self) -> dict[str, Volt | None]:
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

    @property
    def _source(self) -> float | None:
        """Voltage at full load, or at the end of the battery [V]; a battery that states none has no such voltage."""
        supply = self.supply
        return supply.output_v if supply.output_min_v is None and not supply.battery else supply.output_min_v

    def _lowest(self, thing: str, solver: Tree[str] | Mesh[str] | None) -> Volt | None:
        if self.volt_unknown is not None or solver is None or self._source is None or thing not in self._members:
            return None
        ohm = self._transfer(thing, solver)
        extra = self._worst(lambda other: ohm.get(other, 0.0))
        rest = fsum([amp * ohm.get(other, 0.0) for other, amp in self._idle.items()])
        return Volt(self._source - rest - extra.amp, extra.event)

    @cached_property
    def _members(self) -> frozenset[str]:
        return frozenset(self.things)

    def _transfer(self, thing: str, solver: Tree[str] | Mesh[str]) -> Mapping[str, float]:
        """Volts lost at a thing for each ampere drawn elsewhere [ohm]: by reciprocity those lost there for one here."""
        return {other: -volt for other, volt in solver.voltages({thing: 1.0}, 0.0).items()}

    @cached_property
    def _all_at_once(self) -> Mapping[str, float]:
        """Voltages [V], were everything that adds to the load to move at once; empty where they are not known."""
        if self.volt_unknown is not None or self._as_built is None or self._source is None:
            return {}
        loads = dict(self._idle)
        for moment in self.moments:
            for sashes in moment.sashes.values():
                for sash in sashes:
                    for actuator, amp in sash.extra_a:
                        loads[actuator] = max(loads.get(actuator, 0.0), self._idle.get(actuator, 0.0) + amp)
        return self._as_built.voltages(loads, self._source)

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


def _signed(share: Share, sign: float) -> Share:
    return lambda thing: sign * share(thing)
