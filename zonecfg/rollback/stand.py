"""How things stand between two steps: who is where, what acts, whom rain closes, and what a controller still takes."""

from collections.abc import Collection, Iterable, Mapping

from zonecfg.model.site import Site
from zonecfg.rollback.operations import Operation, Work
from zonecfg.rollback.settings import Coverage, shuts


class Stand:
    """Settings that change one operation at a time, forwards and back, with the count of who has no rain closing."""

    def __init__(self, site: Site, coverage: Coverage, work: Work, isolated: Iterable[str] = ()) -> None:
        self._coverage, self._work = coverage, work
        both = {**work.target.about, **work.now.about}
        self._only = next(iter(site.controllers)) if len(site.controllers) == 1 else None
        self._controller = {group: about.get("controller") for group, about in both.items()}
        self._limits = {c.id: c.limits for c in site.controllers.values() if c.limits is not None}
        self._per_sensor = self._sensor_limits(site)
        self.members = {group: set(held) for group, held in work.now.members.items()}
        self._acting = set(work.now.wet_weather)
        self._shutting = {group for group, action in work.now.wet_weather.items() if shuts(action)}
        self._blowing = set(work.now.strong_wind)
        self._linked: dict[str, set[str]] = {}
        self._load: dict[str, int] = {}
        for sensor, group in work.now.links:
            self._linked.setdefault(group, set()).add(sensor)
            self._load[sensor] = self._load.get(sensor, 0) + 1
        self._first_size = {group: len(held) for group, held in self.members.items()}
        self._on: dict[str | None, int] = {}
        for group in self.members:
            self._on[self.home(group)] = self._on.get(self.home(group), 0) + 1
        self.isolated = set(isolated)
        self._times = dict.fromkeys(site.actuators, 0)
        for group in self.members:
            if self.covers(group):
                for actuator in self._commanded(group):
                    self._times[actuator] += 1
        self.uncovered = sum(self._bare(a) for a in coverage.exposed)
        self._unlinking = work.now.links - work.target.links

        self.limited = self._may_fill()

    def _may_fill(self) -> bool:
        """Whether a limit of groups could stand in the way of anybody."""
        sizes, groups = dict(self._first_size), dict(self._on)
        for op in self._work.operations:
            if op.group is not None and op.goes_in:
                sizes[op.group] = sizes.get(op.group, 0) + len(op.actuators)
            elif op.group is not None and op.do == "make-group":
                groups[self.home(op.group)] = groups.get(self.home(op.group), 0) + 1
        for group, size in sizes.items():
            limits = self._limits.get(self.home(group) or "")
            if limits is not None and limits.actuators_per_group is not None and size > limits.actuators_per_group:
                return True
        most = {c: limits.groups for c, limits in self._limits.items()}
        return any(most.get(c or "") is not None and count > (most[c or ""] or 0) for c, count in groups.items())

    def home(self, group: str) -> str | None:
        """The controller that holds a group."""
        return self._controller.get(group) or self._only

    def _sensor_limits(self, site: Site) -> dict[str, int]:
        """Most groups each sensor may act on, where the controller it reports to is known and says so."""
        found = {}
        both = self._work.now.links | self._work.target.links
        for sensor in site.sensors:
            homes = {self.home(group) for s, group in both if s == sensor}
            controller = self._coverage.at(sensor) or (homes.pop() if len(homes) == 1 else self._only)
            limits = self._limits.get(controller or "")
            if limits is not None and limits.groups_per_sensor is not None:
                found[sensor] = limits.groups_per_sensor
        return found

    def covers(self, group: str) -> bool:
        """Whether rain closes a group's members."""
        return group in self._shutting and any(self._closes(s, group) for s in self._linked.get(group, ()))

    def _closes(self, sensor: str, group: str) -> bool:
        return self._coverage.closes_at(sensor, self._controller.get(group))

    def _commanded(self, group: str) -> Iterable[str]:
        at = self._controller.get(group)
        return (a for a in self.members[group] if self._coverage.commanded_by(at, a))

    def _bare(self, actuator: str) -> bool:
        return actuator in self.isolated or not self._times.get(actuator, 0)

    def _count(self, actuators: Iterable[str], step: int) -> None:
        for actuator in actuators:
            bare = self._bare(actuator)
            self._times[actuator] = self._times.get(actuator, 0) + step
            if actuator in self._coverage.exposed:
                self.uncovered += self._bare(actuator) - bare

    def isolate(self, actuators: Collection[str], *, on: bool = True) -> None:
        """Cut actuators off from their supply, or connect them again."""
        self.uncovered -= sum(self._bare(a) for a in actuators if a in self._coverage.exposed)
        (self.isolated.update if on else self.isolated.difference_update)(actuators)
        self.uncovered += sum(self._bare(a) for a in actuators if a in self._coverage.exposed)

    def full(self, group: str, more: int) -> bool:
        """Whether so many more would be over the limit of a group, and over what it had to begin with."""
        limits = self._limits.get(self.home(group) or "")
        if limits is None or limits.actuators_per_group is None:
            return False
        return len(self.members[group]) + more > max(limits.actuators_per_group, self._first_size.get(group, 0))

    def allowed(self, op: Operation) -> bool:
        """Whether an operation can be done now: it has what it needs, and no limit is broken by it."""
        group = op.group
        if op.do == "reconnect":
            held = [tuple(sorted(g for g, m in self.members.items() if a in m)) for a in op.actuators]
            goal = [tuple(sorted(g for g, m in self._work.target.members.items() if a in m)) for a in op.actuators]
            return held == goal
        if group is None:
            return True
        if op.do == "make-group":
            limits = self._limits.get(self.home(group) or "")
            most = None if limits is None else limits.groups
            return group not in self.members and (most is None or self._on.get(self.home(group), 0) < most)
        if group not in self.members:
            return False
        if op.do == "link":
            bare = group in self._work.target.wet_weather and group not in self._acting
            most = self._per_sensor.get(op.sensor or "")
            return not bare and (most is None or self._load.get(op.sensor or "", 0) < most)
        if op.goes_in:
            return not self.full(group, len(op.actuators))
        linked = self._linked.get(group, ())
        if op.do in {"clear-wet-action", "clear-wind-action"}:
            return not any((sensor, group) in self._unlinking for sensor in linked)
        if op.do == "empty-group":
            return not (self.members[group] or linked or group in self._acting or group in self._blowing)
        return True

    def apply(self, op: Operation, *, back: bool = False) -> None:
        """Do an operation, or undo one that was done."""
        group, forth = op.group or "", not back
        if op.do in {"move", "put-in", "park"}:
            if back:
                self._take(op, group if op.goes_in else None)
                self._give(op, op.from_group)
            else:
                self._take(op, op.from_group)
                self._give(op, group if op.goes_in else None)
        elif op.do in {"make-group", "empty-group"}:
            there = (op.do == "make-group") == forth
            if there:
                self.members[group] = set()
            else:
                del self.members[group]
            self._on[self.home(group)] = self._on.get(self.home(group), 0) + (1 if there else -1)
        elif op.do in {"set-wet-action", "clear-wet-action"}:
            action = op.action if forth else op.before
            self._switched(group, acting=action is not None, shutting=shuts(action))
        elif op.do in {"set-wind-action", "clear-wind-action"}:
            blows = (op.action if forth else op.before) is not None
            (self._blowing.add if blows else self._blowing.discard)(group)
        elif op.do in {"link", "unlink"}:
            self._linking(op.sensor or "", group, on=(op.do == "link") == forth)
        elif op.do == "reconnect":
            self.isolate(op.actuators, on=back)

    def _take(self, op: Operation, group: str | None) -> None:
        if group is not None:
            if self.covers(group):
                at = self._controller.get(group)
                self._count([a for a in op.actuators if self._coverage.commanded_by(at, a)], -1)
            self.members[group].difference_update(op.actuators)

    def _give(self, op: Operation, group: str | None) -> None:
        if group is not None:
            self.members[group].update(op.actuators)
            if self.covers(group):
                at = self._controller.get(group)
                self._count([a for a in op.actuators if self._coverage.commanded_by(at, a)], 1)

    def _switched(self, group: str, *, acting: bool, shutting: bool) -> None:
        was = self.covers(group)
        (self._acting.add if acting else self._acting.discard)(group)
        (self._shutting.add if shutting else self._shutting.discard)(group)
        self._recount(group, was=was)

    def _linking(self, sensor: str, group: str, *, on: bool) -> None:
        was = self.covers(group)
        held = self._linked.setdefault(group, set())
        (held.add if on else held.discard)(sensor)
        self._load[sensor] = self._load.get(sensor, 0) + (1 if on else -1)
        self._recount(group, was=was)

    def _recount(self, group: str, *, was: bool) -> None:
        if self.covers(group) != was:
            self._count(self._commanded(group), -1 if was else 1)


def least(coverage: Coverage, work: Work) -> int:
    """Actuators without rain closing whatever the order: nothing of both ends together closes them."""
    closable: set[str] = set()
    links = work.now.links | work.target.links
    about = {**work.target.about, **work.now.about}
    acting = {
        g for held in (work.now.wet_weather, work.target.wet_weather) for g, action in held.items() if shuts(action)
    }
    heard = {g for s, g in links if g in acting and coverage.closes_at(s, about.get(g, {}).get("controller"))}
    for settings in (work.now, work.target):
        for group in heard & settings.members.keys():
            at = about.get(group, {}).get("controller")
            closable.update(a for a in settings.members[group] if coverage.commanded_by(at, a))
    return len(coverage.exposed - closable)


def per_group(operations: Iterable[Operation]) -> Mapping[str, list[Operation]]:
    """Operations that bring somebody into a group or make it close in the rain, by group."""
    found: dict[str, list[Operation]] = {}
    for op in operations:
        if op.group is not None and (op.goes_in or op.do in {"make-group", "set-wet-action", "link"}):
            found.setdefault(op.group, []).append(op)
    return found
