"""What has to be done to get from one set of settings to another, each thing once and in no order yet."""

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from zonecfg.model.site import Site
from zonecfg.results.way import Do
from zonecfg.rollback.settings import Settings


class Operation(Struct, frozen=True, kw_only=True):
    """One thing to do at a controller, or with a sash that was isolated."""

    do: Do
    group: str | None = None
    from_group: str | None = None
    actuators: tuple[str, ...] = ()
    sensor: str | None = None
    action: Mapping[str, Any] | None = None
    before: Mapping[str, Any] | None = None
    opening: str | None = None

    @property
    def goes_in(self) -> bool:
        """Whether actuators come into a group."""
        return self.do in {"move", "put-in"}


class Work(Struct, frozen=True, kw_only=True):
    """Both ends, every group under a name of its own, and what lies between."""

    now: Settings
    target: Settings
    names: Mapping[str, str]
    """Groups that are called like one of another controller: their name here to the name they have there."""
    operations: tuple[Operation, ...]


def work(site: Site, now: Settings, target: Settings, isolated: Mapping[str, tuple[str, ...]]) -> Work:
    """Work out everything that has to be done.

    Parameters
    ----------
    site
        The plant: which actuators share a sash.
    now, target
        Settings before and after.
    isolated
        Openings whose actuators are cut off, with those actuators; whole in the target, they are connected again.
    """
    only = next(iter(site.controllers)) if len(site.controllers) == 1 else None
    names: dict[str, str] = {}
    for group in target.members.keys() & now.members.keys():
        here, there = now.controller_of(group) or only, target.controller_of(group) or only
        if here is not None and there is not None and here != there:
            names[f"{group}\0{there}"] = group
    goal = target.called({group: key for key, group in names.items()})
    return Work(now=now, target=goal, names=names, operations=tuple(_operations(site, now, goal, isolated)))


def _operations(
    site: Site, now: Settings, goal: Settings, isolated: Mapping[str, tuple[str, ...]]
) -> Iterator[Operation]:
    for group in sorted(goal.members.keys() - now.members.keys()):
        yield Operation(do="make-group", group=group)
    for group in sorted(goal.members.keys() & now.members.keys()):
        if dict(now.about.get(group, {})) != dict(goal.about.get(group, {})):
            yield Operation(do="name-group", group=group)
    for section, set_, _ in _ACTIONS:
        have, want = getattr(now, section), getattr(goal, section)
        for group in sorted(want):
            if group not in have or dict(have[group]) != dict(want[group]):
                yield Operation(do=set_, group=group, action=want[group], before=have.get(group))
    for sensor, group in sorted(goal.links - now.links):
        yield Operation(do="link", sensor=sensor, group=group)
    yield from _moves(site, now, goal)
    for opening, actuators in isolated.items():
        if not apart(groups_by_actuator(goal), actuators):
            yield Operation(do="reconnect", opening=opening, actuators=tuple(actuators))
    for sensor, group in sorted(now.links - goal.links):
        yield Operation(do="unlink", sensor=sensor, group=group)
    for section, _, clear in _ACTIONS:
        have, want = getattr(now, section), getattr(goal, section)
        for group in sorted(have.keys() - want.keys()):
            yield Operation(do=clear, group=group, before=have[group])
    for group in sorted(now.members.keys() - goal.members.keys()):
        yield Operation(do="empty-group", group=group)


_ACTIONS: tuple[tuple[str, Do, Do], ...] = (
    ("wet_weather", "set-wet-action", "clear-wet-action"),
    ("strong_wind", "set-wind-action", "clear-wind-action"),
)


def _moves(site: Site, now: Settings, goal: Settings) -> Iterator[Operation]:
    """What changes group, sash by sash; those of one sash that go from one group to one other go together."""
    here, there = groups_by_actuator(now), groups_by_actuator(goal)
    sashes = [(opening, actuators) for opening, actuators in site.actuators_of.items()]
    sashes += [(a.id, [a.id]) for a in site.actuators.values() if a.opening is None]
    for opening, actuators in sashes:
        pending: dict[tuple[tuple[str, ...], tuple[str, ...]], list[str]] = {}
        for actuator in actuators:
            pair = here.get(actuator, ()), there.get(actuator, ())
            if set(pair[0]) != set(pair[1]):
                pending.setdefault(pair, []).append(actuator)
        for (old, new), going in pending.items():
            who = tuple(going)
            leave, come = [g for g in old if g not in new], [g for g in new if g not in old]
            if leave and come:
                yield Operation(do="move", actuators=who, group=come.pop(0), from_group=leave.pop(0), opening=opening)
            for group in come:
                yield Operation(do="put-in", actuators=who, group=group, opening=opening)
            for group in leave:
                yield Operation(do="park", actuators=who, group=group, from_group=group, opening=opening)


def groups_by_actuator(settings: Settings) -> dict[str, tuple[str, ...]]:
    """Groups of each actuator that is in one, by name."""
    found: dict[str, list[str]] = {}
    for group in sorted(settings.members):
        for actuator in settings.members[group]:
            found.setdefault(actuator, []).append(group)
    return {actuator: tuple(groups) for actuator, groups in found.items()}


def apart(homes_: Mapping[str, tuple[str, ...]], actuators: tuple[str, ...] | list[str]) -> bool:
    """Whether the actuators of one sash are not all moved by the same groups."""
    return len({homes_.get(a, ()) for a in actuators}) > 1
