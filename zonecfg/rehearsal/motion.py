"""Sashes on their way: each controller moves only so many at once, the others wait their turn."""

from collections.abc import Iterable, Iterator

from zonecfg.model.site import Site

_STILL = 1e-9


class SashOnTheWay:
    """One sash: where it stands [percent of the set stroke], where it should go, and how fast."""

    __slots__ = ("actuators", "at", "full_s", "group", "moving_since", "name", "start", "target")

    def __init__(self, name: str, group: str, actuators: tuple[str, ...], full_s: float | None, at: float) -> None:
        self.name, self.group, self.actuators, self.full_s = name, group, actuators, full_s
        self.at = self.start = self.target = at
        self.moving_since: float | None = None

    @property
    def wants_to_move(self) -> bool:
        """Whether it is not where it should be."""
        return abs(self.target - self.at) > _STILL

    def position(self, now: float) -> float:
        """Where it stands at a moment [percent]."""
        if self.moving_since is None or not self.full_s:
            return self.at
        gone = (now - self.moving_since) / self.full_s * 100
        way = self.target - self.start
        return self.target if gone >= abs(way) else self.start + (gone if way > 0 else -gone)

    @property
    def arrives(self) -> float | None:
        """When it will have arrived [s]."""
        if self.moving_since is None:
            return None
        return self.moving_since + abs(self.target - self.start) / 100 * (self.full_s or 0.0)

    def stop(self, now: float) -> None:
        """Stand still where it is."""
        self.at = self.position(now)
        self.moving_since = None

    def go(self, now: float) -> None:
        """Start, or turn round, from where it is."""
        self.at = self.start = self.position(now)
        self.moving_since = now


class ControllerQueue:
    """All sashes of one controller."""

    def __init__(self, sashes: Iterable[SashOnTheWay], at_once: int | None) -> None:
        self.sashes = list(sashes)
        self.at_once = at_once

    def send(self, targets: dict[str, float], now: float) -> None:
        """Give sashes new targets by group; what moves already turns round at once, the others queue."""
        for sash in self.sashes:
            target = targets.get(sash.group)
            if target is None or target == sash.target:
                continue
            moving = sash.moving_since is not None
            sash.stop(now)
            sash.target = target
            if moving and sash.wants_to_move:
                sash.go(now)
        self.start_waiting(now)

    def start_waiting(self, now: float) -> list[SashOnTheWay]:
        """Let the next sashes go, as far as the controller moves more at once; give those that start."""
        started = []
        moving = sum(sash.moving_since is not None for sash in self.sashes)
        for sash in self.sashes:
            if self.at_once is not None and moving >= self.at_once:
                break
            if sash.moving_since is None and sash.wants_to_move and sash.full_s is not None:
                sash.go(now)
                started.append(sash)
                moving += 1
        return started

    @property
    def next_arrival(self) -> float | None:
        """When the next sash arrives [s]."""
        return min((at for sash in self.sashes if (at := sash.arrives) is not None), default=None)

    def arrive(self, now: float) -> tuple[list[SashOnTheWay], list[SashOnTheWay]]:
        """Stop the sashes that have arrived, and let the next ones go; give both."""
        done = [s for s in self.sashes if (at := s.arrives) is not None and at <= now + 1e-9]
        for sash in done:
            sash.at, sash.moving_since = sash.target, None
        return done, self.start_waiting(now) if done else []

    @property
    def moving(self) -> Iterator[SashOnTheWay]:
        """Sashes on their way now."""
        return (sash for sash in self.sashes if sash.moving_since is not None)


def queues(site: Site, controller_of: dict[str, str], open_percent: float) -> tuple[list[ControllerQueue], list[str]]:
    """Put every sash that a group moves into its controller's queue, in the order of groups and members.

    Returns
    -------
    tuple
        The queues, and the actuators whose stroke or speed is not given: they do not move.
    """
    held: dict[str | None, dict[tuple[str, str], list[str]]] = {}
    for group, members in site.members_of.items():
        for member in members:
            sash = site.actuators[member].opening or member
            held.setdefault(controller_of.get(member), {}).setdefault((sash, group), []).append(member)
    found, unknown = [], []
    for controller, sashes in held.items():
        commands = site.controllers.get(controller or "")
        at_once = commands.moves_at_once if commands else None
        listed = []
        for (sash, group), actuators in sashes.items():
            times = []
            for actuator in actuators:
                fitted = site.actuators[actuator]
                if fitted.stroke_mm is None or fitted.speed_mm_s is None:
                    unknown.append(actuator)
                else:
                    times.append(fitted.stroke_mm / fitted.speed_mm_s)
            full_s = max(times) if len(times) == len(actuators) else None
            listed.append(SashOnTheWay(sash, group, tuple(actuators), full_s, open_percent))
        found.append(ControllerQueue(listed, at_once))
    return found, unknown
