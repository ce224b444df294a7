"""Steps from one set of settings to another, in words that can be followed without this tool."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct

from zonecfg.model.site import Site
from zonecfg.results.way import Do, Search, Step
from zonecfg.results.words import listed
from zonecfg.rollback.operations import Operation, Work, work
from zonecfg.rollback.order import Order, ordered
from zonecfg.rollback.settings import Coverage, Settings
from zonecfg.rollback.stand import Stand, least

MOVES = frozenset({"move", "park", "put-in"})
"""Steps that change which group moves a sash."""


class StepOrder(Struct, frozen=True):
    """Steps in order, how their order was found, and who is still cut off at the end."""

    steps: list[Step]
    search: Search
    isolated: tuple[str, ...] = ()


def steps_between(
    site: Site,
    now: Settings,
    target: Settings,
    minutes: Mapping[str, float],
    *,
    coverage: Coverage | None = None,
    isolated: Mapping[str, tuple[str, ...]] | None = None,
) -> StepOrder:
    """Find the steps that turn the settings of a plant into others.

    Parameters
    ----------
    site
        The plant: sashes, shelter, limits.
    now, target
        Settings before and after.
    minutes
        Minutes of each kind of step [min].
    coverage
        Whom rain closing can reach in the plant, where that is known already.
    isolated
        Openings whose actuators are cut off, with those actuators.

    Returns
    -------
    StepOrder
        Deterministic: the same plant and settings give the same steps.

    Raises
    ------
    NoOrder
        No order stays within the limits of the controllers.
    """
    cut_off = dict(isolated or {})
    reach = coverage or Coverage(site)
    whole = work(site, now, target, cut_off)
    stand = Stand(site, reach, whole, [a for held in cut_off.values() for a in held])
    order = ordered(stand, whole.operations, minutes)
    told, off = [], set(stand.isolated) | {a for held in cut_off.values() for a in held}
    for done in order.done:
        if done.operation.do == "reconnect":
            off -= set(done.operation.actuators)
        told.append(_step(site, whole, done.operation, done.uncovered, tuple(sorted(off))))
    return StepOrder(told, _search(whole, order, least(reach, whole)), tuple(sorted(off)))


def _search(whole: Work, order: Order, floor: int) -> Search:
    moves = [done for done in order.done if done.operation.do in MOVES]
    proven = None
    if order.exact and whole.operations:
        proven = (
            "no other order of these steps within the limits has fewer actuators without rain closing at its worst, "
            "and none with the same worst a smaller sum of actuators x minutes"
        )
    return Search(
        method=order.method,
        moving_sashes=len({done.operation.opening for done in moves}),
        exact=order.exact,
        sum_over_moves=sum(done.uncovered for done in moves),
        lower_bound=floor * len(moves),
        operations=len(whole.operations),
        proven=proven,
    )


def _step(site: Site, whole: Work, op: Operation, uncovered: int, isolated: tuple[str, ...]) -> Step:
    group, origin = _called(whole, op.group), _called(whole, op.from_group)
    about = whole.target.about.get(op.group or "") or whole.now.about.get(op.group or "") or {}
    openings = (op.opening,) if op.opening in site.openings else ()
    return Step(
        do=op.do,
        text=_words(site, op, group, origin, about, (_home(site, whole, op.group), _home(site, whole, op.from_group))),
        actuators=op.actuators,
        actuator=op.actuators[0] if op.actuators else None,
        group=group,
        from_group=origin,
        sensor=op.sensor,
        uncovered=uncovered,
        controller=_home(site, whole, op.group),
        openings=tuple(o for o in openings if o is not None),
        action=None if op.action is None else dict(op.action),
        about=dict(about) if op.do in {"make-group", "name-group"} else None,
        isolated=isolated,
    )


def _called(whole: Work, group: str | None) -> str | None:
    return None if group is None else whole.names.get(group, group)


def _home(site: Site, whole: Work, group: str | None) -> str | None:
    if group is None:
        return None
    home = whole.target.controller_of(group) or whole.now.controller_of(group)
    return home or (next(iter(site.controllers)) if len(site.controllers) == 1 else None)


_SAYS: Mapping[Do, str] = {
    "unlink": "unlink {sensor} from {group}",
    "link": "link {sensor} to {group}",
    "clear-wet-action": "take away what {group} does in wet weather",
    "clear-wind-action": "take away what {group} does in strong wind",
    "empty-group": "take the empty group {group} away",
}


def _words(
    site: Site,
    op: Operation,
    group: str | None,
    origin: str | None,
    about: Mapping[str, Any],
    homes: tuple[str | None, str | None],
) -> str:
    """Say a step in full: whom, by serial, window and room, and what is set in the words of a person."""
    at, out = (f" on {home}" if home is not None and len(site.controllers) > 1 else "" for home in homes)
    who = listed_in_full(site, op.actuators)
    together = " together" if len(op.actuators) > 1 else ""
    if op.do == "make-group":
        name = f", called {about['name']}" if about.get("name") else ""
        return f"make the group {group}{name}{at}"
    if op.do == "name-group":
        return f"call the group {group} {about.get('name', 'by no name')}{at}"
    if op.do == "set-wet-action":
        return f"set {group}{at}: {in_rain(op.action or {})}"
    if op.do == "set-wind-action":
        return f"set {group}{at}: {in_wind(op.action or {})}"
    if op.do == "move":
        return f"move {who}{together} from {origin}{out if out != at else ''} to {group}{at}"
    if op.do == "put-in":
        return f"put {who}{together} into {group}{at}"
    if op.do == "park":
        return f"take {who}{together} out of {origin or group}{at}"
    if op.do == "reconnect":
        return f"connect {who} to the supply again: they move as one"
    return _SAYS[op.do].format(sensor=op.sensor, group=group) + at


def listed_in_full(site: Site, actuators: Iterable[str]) -> str:
    """Name actuators with serial, window and room, as people find them; none is cut."""
    return listed([described(site, actuator) for actuator in actuators], most=10_000)


def described(site: Site, actuator: str) -> str:
    """Name an actuator with serial, window and room."""
    device = site.actuators[actuator]
    opening = site.openings.get(device.opening or "")
    room = site.rooms.get(opening.room or "") if opening is not None else None
    parts = [f"serial {device.serial}"] if device.serial else []
    parts += [f"window {opening.id}"] if opening is not None else []
    parts += [room.name or room.id] if room is not None else []
    return f"{actuator} ({', '.join(parts)})" if parts else actuator


def in_rain(action: Mapping[str, Any]) -> str:
    """Say what a group does in wet weather."""
    share = action.get("open_percent")
    how = (
        "stay as they are" if share is None else "close fully" if share == 0 else f"close to {share:g} % of the stroke"
    )
    return f"{how} in rain, {_after(action, 'when_dry', 'dry_minutes', 'dry')}"


def in_wind(action: Mapping[str, Any]) -> str:
    """Say what a group does in strong wind."""
    return f"close in strong wind, {_after(action, 'when_calm', 'calm_minutes', 'calm')}"


def _after(action: Mapping[str, Any], field: str, wait: str, when: str) -> str:
    if action.get(field) != "return":
        return "stay so"
    minutes = action.get(wait)
    return f"go back once it is {when}" + (f" for {minutes:g} minutes" if minutes else "")


def steps_of(steps: Iterable[Step]) -> Iterator[Step]:
    """Give the steps that change what a controller holds."""
    return (step for step in steps if step.do in MOVES or step.group is not None)
