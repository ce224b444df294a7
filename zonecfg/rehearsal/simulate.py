"""The simulation: from one event to the next, until the weather is over and every sash has stopped."""

import math
from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.rehearsal.fire import short_of_smoke_stroke
from zonecfg.rehearsal.load_cases import LoadCases
from zonecfg.rehearsal.motion import ControllerQueue, queues
from zonecfg.rehearsal.orders import GroupOrders
from zonecfg.rehearsal.rain import open_at
from zonecfg.rehearsal.reach import within_reach
from zonecfg.rehearsal.weather import Weather, heard
from zonecfg.results.rehearsal import Happening, OpenInRain, Position, Rehearsal
from zonecfg.results.words import counted, listed

_SAYS = {
    ("rain", "closes"): "closes for rain",
    ("rain", "waits"): "waits for it to stay dry",
    ("rain", "returns"): "goes back after rain",
    ("rain", "stays"): "stays as it is after rain",
    ("wind", "closes"): "closes for wind",
    ("wind", "waits"): "waits for it to stay calm",
    ("wind", "returns"): "goes back after wind",
    ("wind", "stays"): "stays as it is after wind",
}


def played(figures: Figures, weather: Weather, file: str, open_percent: float = 100.0) -> Rehearsal:
    """Play weather through the links and actions of a site.

    Parameters
    ----------
    figures
        The site with its figures.
    weather
        What happens outside.
    file
        How the site file is called.
    open_percent
        How far every sash stands open at the start [percent of the set stroke].

    Returns
    -------
    Rehearsal
        Everything that happens, in order.
    """
    return _Run(figures, weather, file, open_percent).rehearsal()


class _Run:
    def __init__(self, figures: Figures, weather: Weather, file: str, open_percent: float) -> None:
        self.plan = figures.site
        figures, self.out_of_reach = within_reach(figures)
        self.site: Site = figures.site
        self.weather, self.file = weather, file
        self.orders = {group: GroupOrders(self.site, group, open_percent) for group in self.site.groups}
        self.queues, self.unknown = queues(self.site, figures.topology.controller_of_actuator, open_percent)
        self.load = LoadCases(figures)
        self.controller_of_group = figures.topology.controller_of_group
        self.happenings: list[Happening] = []
        self.positions: dict[str, list[Position]] = {group: [] for group in self.site.groups}
        self.in_rain: list[OpenInRain] = []
        self.reporting: set[str] = set()
        self.on_fire: set[str] = set()
        self.settled: float | None = None
        self._queues_of: dict[str, list[ControllerQueue]] = {}
        for queue in self.queues:
            for sash in queue.sashes:
                held = self._queues_of.setdefault(sash.group, [])
                if queue not in held:
                    held.append(queue)

    def rehearsal(self) -> Rehearsal:
        self._mark(0.0, self.positions.keys())
        for sensor in sorted(self.weather.failed):
            lost = self.site.sensors[sensor].if_lost or "nothing"
            self._tell(0.0, "lost", f"{sensor} never reports; it is taken for {lost}", sensor=sensor)
        reports = heard(self.site, self.weather)
        ends = sorted({spell.end_s for spell in self.weather.spells if spell.kind == "rain"})
        fire = self.weather.fire_s
        now = last = 0.0
        while True:
            times = [reports[0][0] if reports else math.inf, ends[0] if ends else math.inf]
            times.append(math.inf if fire is None else fire)
            times += [at for orders in self.orders.values() if (at := orders.next_change) is not None]
            times += [at for queue in self.queues if (at := queue.next_arrival) is not None]
            now = min(times)
            if now == math.inf:
                break
            touched: set[str] = set()  # groups whose sashes stop or start
            for queue in self.queues:
                touched |= self._arrived(queue, now)
            if ends and ends[0] <= now:
                wet = self._wet_in_truth(now)
                stands = self._positions_at(now)
                self.in_rain += open_at(self.site, stands, wet, self.reporting, self.on_fire, now)
                ends.pop(0)
            changed: set[str] = set()
            while reports and reports[0][0] <= now:
                _, sensor, on = reports.pop(0)
                changed |= self._hear(sensor, on, now)
            changed |= self._waited(now)
            if fire is not None and fire <= now:
                changed |= self._fire(now)
                fire = None
            self._send(changed, now)
            self._mark(now, touched | changed)
            self.load.at(now, (a for queue in self.queues for sash in queue.moving for a in sash.actuators))
            last = now
        peaks, lowest = self.load.result()
        return Rehearsal(
            file=self.file,
            spells=self.weather.spells,
            happenings=tuple(self.happenings),
            positions={group: tuple(marks) for group, marks in self.positions.items()},
            settled_s=self.settled,
            ends_s=last,
            open_in_rain=tuple(self.in_rain),
            peaks=peaks,
            lowest=lowest,
            notes=tuple(self._notes()),
        )

    def _tell(self, now: float, what: str, text: str, *, sensor: str | None = None, group: str | None = None) -> None:
        self.happenings.append(Happening(at_s=now, what=what, text=text, sensor=sensor, group=group))  # type: ignore[arg-type]

    def _arrived(self, queue: ControllerQueue, now: float) -> set[str]:
        at = queue.next_arrival
        if at is None or at > now + 1e-9:
            return set()
        done, started = queue.arrive(now)
        if any(sash.target < sash.start for sash in done):
            self.settled = now
        for group in dict.fromkeys(sash.group for sash in done):
            sashes = [s for y in self._queues_of[group] for s in y.sashes if s.group == group]
            if all(s.moving_since is None and not s.wants_to_move for s in sashes):
                self._tell(now, "settled", f"{group} has stopped, {sashes[0].target:g} % open", group=group)
        return {sash.group for sash in (*done, *started)}

    def _hear(self, sensor: str, on: bool, now: float) -> set[str]:
        rain = self.site.sensors[sensor].measures != "wind"
        word = ("wet" if on else "dry") if rain else ("wind" if on else "calm")
        says = {"wet": "is wet", "dry": "is dry", "wind": "sees strong wind", "calm": "is calm"}[word]
        self._tell(now, word, f"{sensor} {says}", sensor=sensor)
        (self.reporting.add if on else self.reporting.discard)(sensor)
        changed = set()
        for group, orders in self.orders.items():
            said = orders.hear(sensor, on, now)
            if said is not None:
                held = ", but the fire command holds it open" if group in self.on_fire else ""
                self._tell(now, said[1], f"{group} {_SAYS[said]}{held}", group=group)
                changed.add(group)
        return changed

    def _waited(self, now: float) -> set[str]:
        changed = set()
        for group, orders in self.orders.items():
            for said in orders.pass_to(now):
                self._tell(now, said[1], f"{group} {_SAYS[said]}{self._but_held(group)}", group=group)
                changed.add(group)
        return changed

    def _but_held(self, group: str) -> str:
        if group in self.on_fire:
            return ", but the fire command holds it open"
        held = self.orders[group].held_by
        return f", as far as {listed(held)} lets it" if held else ""

    def _fire(self, now: float) -> set[str]:
        """Open the smoke vents of controllers that state that a fire command goes first."""
        self._tell(now, "fire", "the fire command comes")
        opened = set()
        for group, openings in self.site.openings_of_group.items():
            if not any(self.site.openings[o].smoke_vent for o in openings):
                continue
            controller = self.site.controllers.get(self.controller_of_group.get(group, ""))
            if controller is not None and controller.fire_command_outranks:
                self.on_fire.add(group)
                opened.add(group)
                self._tell(now, "opens", f"{group} opens its smoke vents, whatever the weather", group=group)
        return opened

    def _send(self, changed: AbstractSet[str], now: float) -> None:
        orders, fire = self.orders, self.on_fire
        targets = {g: 100.0 if g in fire else orders[g].target for g in self._in_order(changed)}
        told: list[ControllerQueue] = []
        for group in targets:
            for queue in self._queues_of.get(group, ()):
                if queue not in told:
                    told.append(queue)
                    queue.send(targets, now)
        for group in targets:
            self._told_to_queue(group, now)

    def _told_to_queue(self, group: str, now: float) -> None:
        """Say where no sash of a group can start, because its controller moves others first."""
        waiting = [s for y in self._queues_of.get(group, ()) for s in y.sashes if s.group == group and s.wants_to_move]
        if waiting and all(s.moving_since is None and s.full_s is not None for s in waiting):
            controller = self.site.controllers.get(self.controller_of_group.get(group, ""))
            if controller is not None and controller.moves_at_once is not None:
                at_once = counted(controller.moves_at_once, "window")
                self._tell(
                    now, "queues", f"{group} waits its turn: {controller.id} moves {at_once} at once", group=group
                )

    def _in_order(self, groups: AbstractSet[str]) -> list[str]:
        """Groups as the plan has them, so that two runs tell one thing."""
        return [group for group in self.positions if group in groups]

    def _positions_at(self, now: float) -> dict[str, tuple[str, float]]:
        return {s.name: (s.group, s.position(now)) for queue in self.queues for s in queue.sashes}

    def _wet_in_truth(self, now: float) -> frozenset[str]:
        return frozenset(s.sensor for s in self.weather.spells if s.kind == "rain" and s.start_s < now <= s.end_s)

    def _mark(self, now: float, groups: AbstractSet[str]) -> None:
        for group in self._in_order(groups):
            sashes = [s for queue in self._queues_of.get(group, ()) for s in queue.sashes if s.group == group]
            if sashes:
                widest = max(s.position(now) for s in sashes)
                self.positions[group].append(Position(at_s=now, open_percent=widest))

    def _measures_nothing_known(self, sensor: str) -> bool:
        return sensor in self.site.sensors and self.site.sensors[sensor].measures is None

    def _notes(self) -> Iterator[str]:
        yield from self.out_of_reach
        if self.unknown:
            yield f"these do not move here, for their stroke_mm or speed_mm_s is not known: {listed(self.unknown)}"
        loose = [a for a in self.plan.actuators if a not in self.plan.groups_of]
        if loose:
            yield f"in no group, so that nothing moves them: {listed(loose)}"
        mute = [s for s, groups in self.site.links.items() if groups and self._measures_nothing_known(s)]
        if mute:
            yield f"it is not known what these measure, so that they do nothing here: {listed(mute)}"
        if self.weather.fire_s is None:
            return
        yield from short_of_smoke_stroke(self.site, self._in_order(self.on_fire))
        for group, openings in self.site.openings_of_group.items():
            vents = [o for o in openings if self.site.openings[o].smoke_vent]
            if not vents or group in self.on_fire:
                continue
            controller = self.controller_of_group.get(group, "its controller")
            obeys = self.site.sensors_of.get(group, ())
            weather = (
                f"rain and wind could close {listed(vents)} while smoke is to go out"
                if obeys
                else (f"whether the fire command opens {listed(vents)} is not known")
            )
            yield f"{controller} does not state that a fire command goes first: {weather}"
