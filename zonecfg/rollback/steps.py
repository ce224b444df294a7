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
from zonecfg.rollback.moves import Sash, order_moves
from zonecfg.rollback.settings import Coverage, Settings, Tally, limits_of_groups


class StepOrder(Struct, frozen=True):
    """Steps in order, and how their order was found."""

    steps: list[Step]
    search: Search


def steps_between(site: Site, now: Settings, target: Settings) -> StepOrder:
    """Find the steps that turn the settings of a plant into others.

    Parameters
    ----------
    site
        The plant: sashes, shelter, limits.
    now, target
        Settings before and after.

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
    steps = list(_prepared(Tally(coverage, now), now, target))
    # Groups, actions and links of both sides stand while sashes move.
    between = Settings(
        members={**dict.fromkeys(target.members, ()), **now.members},
        links=now.links | target.links,
        wet_weather={**now.wet_weather, **target.wet_weather},
        strong_wind={**now.strong_wind, **target.strong_wind},
        about={**target.about, **now.about},
    )
    sashes = list(moving_sashes(site, between, target))
    covering = coverage.covering(between)
    moving = {a for sash in sashes for a in sash.actuators}
    beyond = {
        (actuator, group)
        for sash in sashes
        for actuator, home in zip(sash.actuators, sash.homes, strict=True)
        for group in (home, sash.target)
        if group is not None and not coverage.commands(group, actuator, between)
    }
    order = order_moves(
        sashes,
        covering=covering,
        beyond=beyond,
        exposed=coverage.exposed,
        room={g: limit - len(between.members.get(g, ())) for g, limit in limits_of_groups(site, between).items()},
        elsewhere=len(coverage.exposed - coverage.reached(between) - moving),
    )
    steps += [_move_step(move.do, move.sash, move.uncovered) for move in order.moves]
    arrived = _replaced(between, members=_after(between.members, sashes))
    steps += _cleared(Tally(coverage, arrived), arrived, target)
    search = Search(
        method=order.method,
        moving_sashes=len(sashes),
        exact=order.exact,
        sum_over_moves=order.cost,
        lower_bound=order.bound,
    )
    return StepOrder(steps, search)


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


def _after(members: Mapping[str, tuple[str, ...]], sashes: Iterable[Sash]) -> dict[str, tuple[str, ...]]:
    """Members once every sash has gone where it goes."""
    goal = {a: sash.target for sash in sashes for a in sash.actuators}
    after = {g: tuple(a for a in held if a not in goal) for g, held in members.items()}
    for actuator, group in goal.items():
        if group is not None:
            after[group] = (*after[group], actuator)
    return after


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


def _prepared(tally: Tally, now: Settings, target: Settings) -> Iterator[Step]:
    """Groups, then actions, then links: what covers most goes first within each kind."""
    for group in sorted(target.members.keys() - now.members.keys()):
        yield Step(do="make-group", text=f"make the group {group}", group=group, uncovered=tally.uncovered)
    for section, do, words in (
        ("wet_weather", "set-wet-action", "in wet weather"),
        ("strong_wind", "set-wind-action", "in strong wind"),
    ):
        wanted: Mapping[str, Any] = getattr(target, section)
        have: Mapping[str, Any] = getattr(now, section)
        wet = section == "wet_weather"
        pending = [g for g in wanted if g not in have or dict(have[g]) != dict(wanted[g])]
        for group in sorted(pending, key=lambda g: (-tally.gain_of_action(g) if wet else 0, g)):
            if wet:
                tally.act(group, True)
            says = listed(f"{k} {v:g}" if isinstance(v, float) else f"{k} {v}" for k, v in wanted[group].items())
            text = f"set what {group} does {words}{f': {says}' if says else ''}"
            yield Step(do=do, text=text, group=group, uncovered=tally.uncovered)  # type: ignore[arg-type]
    for sensor, group in _links_by_gain(tally, target.links - now.links):
        tally.link(sensor, group, True)
        text = f"link {sensor} to {group}"
        yield Step(do="link", text=text, sensor=sensor, group=group, uncovered=tally.uncovered)


def _links_by_gain(tally: Tally, links: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """Put the link that covers most first; of several to one group only the first covers anything."""
    first: dict[str, tuple[str, str]] = {}
    for link in sorted(links):
        if tally.gain_of_link(*link):
            first.setdefault(link[1], link)
    return sorted(links, key=lambda link: (-tally.gain_of_link(*link) if first.get(link[1]) == link else 0, link))


def _cleared(tally: Tally, now: Settings, target: Settings) -> Iterator[Step]:
    """Unlinks, then actions nobody needs any more, then groups that are empty."""
    for sensor, group in sorted(now.links - target.links):
        tally.link(sensor, group, False)
        text = f"unlink {sensor} from {group}"
        yield Step(do="unlink", text=text, sensor=sensor, group=group, uncovered=tally.uncovered)
    for section, do in (("wet_weather", "clear-wet-action"), ("strong_wind", "clear-wind-action")):
        wet = section == "wet_weather"
        for group in sorted(getattr(now, section).keys() - getattr(target, section).keys()):
            if wet:
                tally.act(group, False)
            text = f"take away what {group} does in {'wet weather' if wet else 'strong wind'}"
            yield Step(do=do, text=text, group=group, uncovered=tally.uncovered)  # type: ignore[arg-type]
    for group in sorted(now.members.keys() - target.members.keys()):
        text = f"take the empty group {group} away"
        yield Step(do="empty-group", text=text, group=group, uncovered=tally.uncovered)


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
