"""Steps from one set of settings to another, in an order in which no window is left out without need.

Actions for weather come first, then links, so that no group is ever linked without an action; then sashes move; unlinks
and what is no longer wanted come last. At every step an actuator is in at most one group, no group is over its limit,
and the actuators of one sash go together.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct

from zonecfg.model.site import Site
from zonecfg.results.way import Search, Step
from zonecfg.results.words import listed
from zonecfg.rollback.moves import EXACT_UP_TO, Sash, order_moves
from zonecfg.rollback.settings import Coverage, Settings, limits_of_groups


class Plan(Struct, frozen=True):
    """Steps in order, how their order was found, and what they end at."""

    steps: list[Step]
    search: Search
    end: Settings


def steps_between(site: Site, now: Settings, target: Settings, *, exact_up_to: int = EXACT_UP_TO) -> Plan:
    """Find the steps that turn the settings of a plant into others.

    Parameters
    ----------
    site
        The plant: sashes, shelter, limits.
    now, target
        Settings before and after.
    exact_up_to
        Moving sashes up to which the order of moves is searched exactly.

    Returns
    -------
    Plan
        Deterministic: the same plant and settings give the same steps.

    Raises
    ------
    ValueError
        A group of the target is over its limit, so that no order reaches it.
    """
    coverage = Coverage(site)
    prepared = list(_prepared(coverage, now, target))
    steps = [step for step, _ in prepared]
    state = prepared[-1][1] if prepared else now
    sashes = list(moving_sashes(site, state, target))
    covering = coverage.covering(state)
    moving = {a for sash in sashes for a in sash.actuators}
    limits = limits_of_groups(site, state)
    reached = {a for g, members in state.members.items() if g in covering for a in members}
    order = order_moves(
        sashes,
        covering=covering,
        exposed=coverage.exposed,
        room={g: limit - len(state.members.get(g, ())) for g, limit in limits.items()},
        elsewhere=len(coverage.exposed - reached - moving),
        exact_up_to=exact_up_to,
    )
    for move in order.moves:
        to = move.sash.target if move.do != "park" else None
        state = moved(state, move.sash.actuators, to)
        steps.append(_move_step(move.do, move.sash, move.uncovered))
    cleared = list(_cleared(coverage, state, target))
    steps += [step for step, _ in cleared]
    search = Search(
        method=order.method,
        moving_sashes=len(sashes),
        exact=order.exact,
        sum_over_moves=order.cost,
        lower_bound=order.bound,
    )
    return Plan(steps, search, cleared[-1][1] if cleared else state)


def moving_sashes(site: Site, now: Settings, target: Settings) -> Iterator[Sash]:
    """Sashes whose group changes, with those of their actuators that are not there yet.

    A sash that the target itself pulls apart goes actuator by actuator.
    """
    home, goal = _group_of(now), _group_of(target)
    for name, actuators in _sashes(site):
        going = tuple(a for a in actuators if home.get(a) != goal.get(a))
        if len({goal.get(a) for a in going}) == 1:
            yield Sash(name, going, tuple(home.get(a) for a in going), goal.get(going[0]))
        else:
            yield from (Sash(f"{name} {a}", (a,), (home.get(a),), goal.get(a)) for a in going)


def moved(settings: Settings, actuators: Iterable[str], to: str | None) -> Settings:
    """Take actuators out of every group and put them into one, or into none."""
    going = tuple(actuators)
    members = {g: tuple(m for m in held if m not in going) for g, held in settings.members.items()}
    if to is not None:
        members[to] = (*members.get(to, ()), *going)
    return _replaced(settings, members=members)


def _replaced(settings: Settings, **changes: Any) -> Settings:
    fields = {name: getattr(settings, name) for name in settings.__struct_fields__}
    return Settings(**{**fields, **changes})


def _sashes(site: Site) -> Iterator[tuple[str, tuple[str, ...]]]:
    for opening, actuators in site.actuators_of.items():
        yield opening, tuple(actuators)
    for actuator in site.actuators.values():
        if actuator.opening is None:
            yield actuator.id, (actuator.id,)


def _group_of(settings: Settings) -> dict[str, str]:
    """The group of each actuator; of several, the first by name, as a move takes it out of all of them."""
    found: dict[str, str] = {}
    for group in sorted(settings.members):
        for actuator in settings.members[group]:
            found.setdefault(actuator, group)
    return found


def _prepared(coverage: Coverage, now: Settings, target: Settings) -> Iterator[tuple[Step, Settings]]:
    """Groups, then actions, then links: what covers most goes first within each kind."""
    state = now
    for group in sorted(target.members.keys() - now.members.keys()):
        about = {**state.about, group: target.about.get(group, {})}
        state = _replaced(state, members={**state.members, group: ()}, about=about)
        uncovered = coverage.uncovered(state)
        yield Step(do="make-group", text=f"make the group {group}", group=group, uncovered=uncovered), state
    for section, do, words in (
        ("wet_weather", "set-wet-action", "in wet weather"),
        ("strong_wind", "set-wind-action", "in strong wind"),
    ):
        wanted: Mapping[str, Any] = getattr(target, section)
        have: Mapping[str, Any] = getattr(now, section)
        pending = [g for g in wanted if dict(have.get(g, {})) != dict(wanted[g]) or g not in have]
        while pending:
            options = [(_with_action(state, section, g, wanted[g]), g) for g in sorted(pending)]
            state, group = min(options, key=lambda option: (coverage.uncovered(option[0]), option[1]))
            pending.remove(group)
            says = listed(f"{k} {v:g}" if isinstance(v, float) else f"{k} {v}" for k, v in wanted[group].items())
            text = f"set what {group} does {words}{f': {says}' if says else ''}"
            yield Step(do=do, text=text, group=group, uncovered=coverage.uncovered(state)), state  # type: ignore[arg-type]
    pending_links = sorted(target.links - now.links)
    while pending_links:
        choices = [(_replaced(state, links=state.links | {link}), link) for link in pending_links]
        state, link = min(choices, key=lambda choice: (coverage.uncovered(choice[0]), choice[1]))
        pending_links.remove(link)
        sensor, group = link
        text = f"link {sensor} to {group}"
        yield Step(do="link", text=text, sensor=sensor, group=group, uncovered=coverage.uncovered(state)), state


def _with_action(state: Settings, section: str, group: str, action: Mapping[str, Any]) -> Settings:
    return _replaced(state, **{section: {**getattr(state, section), group: action}})


def _cleared(coverage: Coverage, now: Settings, target: Settings) -> Iterator[tuple[Step, Settings]]:
    """Unlinks, then actions nobody needs any more, then groups that are empty."""
    state = now
    for sensor, group in sorted(now.links - target.links):
        state = _replaced(state, links=state.links - {(sensor, group)})
        text = f"unlink {sensor} from {group}"
        yield Step(do="unlink", text=text, sensor=sensor, group=group, uncovered=coverage.uncovered(state)), state
    for section, do in (("wet_weather", "clear-wet-action"), ("strong_wind", "clear-wind-action")):
        for group in sorted(getattr(now, section).keys() - getattr(target, section).keys()):
            left = {g: a for g, a in getattr(state, section).items() if g != group}
            state = _replaced(state, **{section: left})
            text = f"take away what {group} does in {'wet weather' if section == 'wet_weather' else 'strong wind'}"
            yield Step(do=do, text=text, group=group, uncovered=coverage.uncovered(state)), state  # type: ignore[arg-type]
    for group in sorted(now.members.keys() - target.members.keys()):
        members = {g: m for g, m in state.members.items() if g != group}
        state = _replaced(state, members=members, about={g: a for g, a in state.about.items() if g != group})
        text = f"take the empty group {group} away"
        yield Step(do="empty-group", text=text, group=group, uncovered=coverage.uncovered(state)), state


def _move_step(do: Any, sash: Sash, uncovered: int) -> Step:
    who = listed(sash.actuators)
    together = " together" if len(sash.actuators) > 1 else ""
    origin = next((home for home in sash.homes if home is not None), None)
    if do == "park":
        text = f"take {who}{together} out of {origin}" + (" to wait outside" if sash.target else "")
    elif do == "put-in" or origin is None:
        do, text = "put-in", f"put {who}{together} into {sash.target}"
    else:
        text = f"move {who}{together} from {origin} to {sash.target}"
    return Step(
        do=do,
        text=text,
        actuators=sash.actuators,
        actuator=sash.actuators[0],
        group=sash.target if do != "park" else origin,
        from_group=origin if do == "move" else None,
        uncovered=uncovered,
    )
