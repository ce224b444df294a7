"""How many units may move at one time: controllers, supplies, and what is not known of them."""

from bisect import insort
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from msgspec import Struct

from zonecfg.engineering.motion import travel_time
from zonecfg.figures import Figures
from zonecfg.identify.resolve_first import Window
from zonecfg.identify.units import Parting, Unit
from zonecfg.model.actuator import Actuator
from zonecfg.results.finding import Unknown
from zonecfg.results.words import counted, figure, listed

_MOVING = ("speed_mm_s", "running_a", "peak_a", "idle_a", "duty_percent")

_RUNNING_ONLY = "supplies are held against running currents only where peak_a of the actuators is not given"


class Budget(Struct, frozen=True, kw_only=True):
    """A current that must not be exceeded.

    It is not known which unit hangs on it: as many as it has windows may, and then those that draw most.
    """

    name: str
    limit_a: float
    rest_a: float
    places: int


class Traits(Struct, frozen=True, kw_only=True):
    """What a unit needs, at the worst window it may have."""

    whole_s: float | None
    duty: float
    controllers: tuple[str, ...]
    """Controllers that may command it."""
    draws: dict[str, float]
    """By budget, the current that it adds while it moves [A]."""
    alone: bool
    """Whether a limit of it is not known, so that no other such unit moves meanwhile."""


class UnitLimits:
    """The limits of one site, for units whose windows are not known.

    Parameters
    ----------
    figures
        Figures of the plan.
    parting
        Who takes part.
    """

    def __init__(self, figures: Figures, parting: Parting) -> None:
        self._figures, self._site, self._parting = figures, figures.site, parting
        self.remarks: list[str] = []

    @cached_property
    def at_once(self) -> Mapping[str, int]:
        """Sashes that a controller moves at one time, where it says so."""
        return {c.id: c.moves_at_once for c in self._site.controllers.values() if c.moves_at_once is not None}

    @cached_property
    def budgets(self) -> Mapping[str, Budget]:
        """What supplies give, and controllers pass on."""
        power, found = self._figures.power, {}
        idle = power.draws.idle_a
        for supply, windows in self._windows_on.items():
            output = self._site.supplies[supply].output_a
            network = power.network_of(supply)
            if isinstance(network, Unknown) or network.load_unknown is not None or output is None:
                continue
            rest = sum(idle.get(thing, 0.0) for thing in network.things)
            found[supply] = Budget(name=supply, limit_a=output, rest_a=rest, places=len(windows))
            for thing in network.things:
                controller = self._site.controllers.get(thing)
                passed = None if controller is None else controller.output_a
                if passed is not None and network.passes(thing):
                    behind = self._figures.topology.actuators_on.get(thing, ())
                    rest = sum(idle.get(actuator, 0.0) for actuator in behind)
                    found[thing] = Budget(name=thing, limit_a=passed, rest_a=rest, places=len(windows))
        return found

    @cached_property
    def traits(self) -> Mapping[int, Traits]:
        """What each unit needs, by its number."""
        cache: dict[tuple[str | None, str | None, int], Traits] = {}
        found = {}
        for unit in self._parting.units:
            kind = unit.controller, unit.type, len(unit.members)
            if kind not in cache:
                cache[kind] = self._traits(unit)
            found[unit.number] = cache[kind]
        return found

    def faults(self) -> Iterator[tuple[str, tuple[str, ...]]]:
        """Say which limit a unit exceeds by itself."""
        said = set()
        for unit in self._parting.units:
            for name, amp in self.traits[unit.number].draws.items():
                budget = self.budgets[name]
                if budget.rest_a + amp > budget.limit_a + 1e-9 and name not in said:
                    said.add(name)
                    total = figure(budget.rest_a + amp)
                    because = (
                        f"{name} gives {figure(budget.limit_a)} A; one sash moving and all else at rest take {total} A"
                    )
                    yield because, (name,)

    @cached_property
    def _supplies_of(self) -> Mapping[str, tuple[str, ...]]:
        """Supplies of each window."""
        feed_of = self._figures.topology.feed_of
        return {
            w.opening: tuple(dict.fromkeys(s for a in w.actuators if a in feed_of for s in feed_of[a].supplies))
            for w in self._parting.windows
        }

    @cached_property
    def _windows_on(self) -> Mapping[str, list[Window]]:
        found: dict[str, list[Window]] = {}
        for window in self._parting.windows:
            for supply in self._supplies_of[window.opening]:
                found.setdefault(supply, []).append(window)
        return found

    @cached_property
    def _windows_of(self) -> Mapping[str, list[Window]]:
        """Windows of each controller; those of which it is not known are of any."""
        commands = self._figures.topology.controller_of_actuator
        found: dict[str, list[Window]] = {}
        for window in self._parting.windows:
            homes = [commands.get(a) for a in window.actuators]
            for home in self._site.controllers if None in homes else dict.fromkeys(homes):
                found.setdefault(str(home), []).append(window)
        return found

    def _fitting(self, unit: Unit) -> Sequence[Window]:
        """Windows that a unit may have: those of its controller, or all where that is not known, or has none."""
        return self._windows_of.get(unit.controller or "") or self._parting.windows

    def _traits(self, unit: Unit) -> Traits:
        windows = self._fitting(unit)
        actuators = [self._site.actuators[a] for window in windows for a in window.actuators]
        moving = self._kinds(unit, actuators)
        strokes = [a.stroke_mm for a in actuators if a.stroke_mm is not None]
        speeds = [a.speed_mm_s for a in moving]
        known = [speed for speed in speeds if speed is not None]
        whole = travel_time(max(strokes), min(known)) if strokes and known and len(known) == len(speeds) else None
        amps = [(a.running_a if a.peak_a is None else a.peak_a, a.idle_a or 0.0) for a in moving]
        extras = [amp - idle for amp, idle in amps if amp is not None]
        supplies = dict.fromkeys(s for window in windows for s in self._supplies_of[window.opening])
        dark = [w.opening for w in windows if not self._supplies_of[w.opening]]
        lacks = list(self._lacks(supplies, dark, known_current=len(extras) == len(amps)))
        controllers = tuple(self._site.controllers) if unit.controller is None else (unit.controller,)
        draws = {}
        if extras:
            draws = {s: max(extras) * len(unit.members) for s in supplies if s in self.budgets}
            draws |= {c: max(extras) * len(unit.members) for c in controllers if c in self.budgets}
        if lacks:
            self._remark(unit, lacks)
        if any(a.peak_a is None and a.running_a is not None for a in moving) and _RUNNING_ONLY not in self.remarks:
            self.remarks.append(_RUNNING_ONLY)
        return Traits(
            whole_s=whole,
            duty=min((a.duty_percent for a in moving if a.duty_percent is not None), default=100.0) / 100,
            controllers=controllers,
            draws=draws,
            alone=bool(lacks),
        )

    def _kinds(self, unit: Unit, actuators: Sequence[Actuator]) -> Sequence[Actuator]:
        """Actuators a unit may consist of: those of its type where the plan knows it, else any that is missing."""
        alike = [a for a in actuators if a.type == unit.type] if unit.type is not None else []
        if alike:
            return alike
        fields = self._site.types.get("actuators", {}).get(unit.type or "")
        if fields is None:
            return actuators
        known = {key: fields[key] for key in _MOVING if key in fields}
        return [Actuator(id=unit.serials[0], **known)]

    def _lacks(self, supplies: Iterable[str], dark: Sequence[str], *, known_current: bool) -> Iterator[str]:
        power = self._figures.power
        if power.unknown is not None:
            yield power.unknown.because
            return
        if dark:
            yield f"no power cable leads to {listed(dark)}"
        for supply in supplies:
            if supply in self.budgets:
                continue
            network = power.network_of(supply)
            unknown = network if isinstance(network, Unknown) else network.load_unknown
            yield f"{supply}: {'output_a is not given' if unknown is None else unknown.because}"
        if not known_current:
            yield "running_a of the actuators is not given"

    def _remark(self, unit: Unit, lacks: Sequence[str]) -> None:
        kind = f" of type {unit.type}" if unit.type else ""
        where = f" on {unit.controller}" if unit.controller else ""
        said = f"{counted(1, 'unit')}{kind}{where} at a time, since {listed(lacks)}"
        if said not in self.remarks:
            self.remarks.append(said)


class Together:
    """Units that are set moving at one time."""

    def __init__(self, limits: UnitLimits) -> None:
        self._limits = limits
        self.units: list[Unit] = []
        self._moved: dict[str, int] = {}
        self._amps: dict[str, list[float]] = {}
        self._alone = False

    def take(self, unit: Unit) -> bool:
        """Take a unit in, if nothing is exceeded."""
        traits, at_once = self._limits.traits[unit.number], self._limits.at_once
        if self._alone and traits.alone:
            return False
        if any(self._moved.get(c, 0) + 1 > at_once[c] for c in traits.controllers if c in at_once):
            return False
        if any(self._with(name, amp) > self._limits.budgets[name].limit_a + 1e-9 for name, amp in traits.draws.items()):
            return False
        self.units.append(unit)
        self._alone |= traits.alone
        for controller in traits.controllers:
            self._moved[controller] = self._moved.get(controller, 0) + 1
        for name, amp in traits.draws.items():
            insort(self._amps.setdefault(name, []), amp)
        return True

    def _with(self, name: str, amp: float) -> float:
        """Largest current of a budget with one unit more [A]: as many of the units as it has windows may hang on it."""
        budget = self._limits.budgets[name]
        amps: list[float] = sorted([*self._amps.get(name, ()), amp])
        return sum(amps[-budget.places :], budget.rest_a)
