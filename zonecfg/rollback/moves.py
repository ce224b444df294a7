"""The order of moves between groups: which sash goes next, and which has to wait outside.

The order that leaves the fewest actuators without rain closing, summed over the steps, and of those the one with the
fewest steps. Without a group that fills up on the way, taking moves by what they gain is that order (every step counts
once, so the larger gain goes first: the exchange argument of scheduling for the smallest sum). Where a group can fill
up, up to ``EXACT_UP_TO`` sashes are searched exactly: A* over what is done with each sash (at home, outside, in its
place; at most 3^12 = 531,441 states), its bound the same sum with no group ever full. Beyond, the move that gains most
and fits goes next, and one that gains least waits outside where none fits; the gap to the bound is told.
"""

import heapq
from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from typing import Literal, NamedTuple

from zonecfg.errors import NoOrder

EXACT_UP_TO = 12
_HOME, _OUTSIDE, _THERE = 0, 1, 2


class Sash(NamedTuple):
    """Actuators that move as one: where each is, and the one group they go to. None is no group."""

    name: str
    actuators: tuple[str, ...]
    homes: tuple[str | None, ...]
    target: str | None


class Move(NamedTuple):
    """One step: a sash goes to its target, to wait outside, or in from outside; and who is uncovered then."""

    do: Literal["move", "park", "put-in"]
    sash: Sash
    uncovered: int


class Order(NamedTuple):
    """Moves in order, and how good that order is."""

    moves: list[Move]
    exact: bool
    method: str
    cost: int
    bound: int


class _Problem(NamedTuple):
    sashes: Sequence[Sash]
    size: list[int]
    exposed: list[int]
    """Actuators of each sash on unsheltered openings."""
    at_home: list[int]
    """Of those, how many no rain closing reaches before the sash moves."""
    at_target: list[int]
    leaves: list[dict[str, int]]
    room: dict[str, int]
    """Free places of each group that has a limit, before any move."""
    elsewhere: int
    """Actuators without rain closing that do not move."""


def order_moves(
    sashes: Sequence[Sash],
    *,
    covering: frozenset[str],
    exposed: frozenset[str],
    room: Mapping[str, int],
    elsewhere: int,
    beyond: AbstractSet[tuple[str, str]] = frozenset(),
    exact_up_to: int = EXACT_UP_TO,
) -> Order:
    """Find the order of moves.

    Parameters
    ----------
    sashes
        What has to move, each once.
    covering
        Groups that rain closes while the moves are made.
    exposed
        Actuators on unsheltered openings.
    room
        Free places of each group that has a limit, before any move.
    elsewhere
        Actuators without rain closing that do not move.
    beyond
        Actuators with a group whose controller does not command them: rain closes them nowhere there.
    exact_up_to
        Moving sashes up to which the order is searched exactly.

    Returns
    -------
    Order
        The same for the same input, whatever the order of the input.
    """
    sashes = sorted(sashes)

    def open_in(actuator: str, group: str | None) -> bool:
        if actuator not in exposed:
            return False
        return group is None or group not in covering or (actuator, group) in beyond

    problem = _Problem(
        sashes,
        [len(s.actuators) for s in sashes],
        [sum(a in exposed for a in s.actuators) for s in sashes],
        [sum(open_in(a, home) for a, home in zip(s.actuators, s.homes, strict=True)) for s in sashes],
        [sum(open_in(a, s.target) for a in s.actuators) for s in sashes],
        [_counted(s.homes) for s in sashes],
        dict(room),
        elsewhere,
    )
    gains = [there - home for home, there in zip(problem.at_home, problem.at_target, strict=True)]
    start = elsewhere + sum(problem.at_home)
    bound = _relaxed(start, gains)
    free = sorted(range(len(sashes)), key=lambda i: (gains[i], sashes[i]))
    by_gain = _replayed(problem, [(i, _THERE) for i in free])
    if by_gain is not None:
        return Order(by_gain, True, "by gain: no group fills up on the way", bound, bound)
    if len(sashes) <= exact_up_to:
        steps, method = _searched(problem, gains), "A* over sashes at home, outside and in place"
    else:
        steps, method = _greedy(problem, gains), "the move that gains most and fits goes next"
    moves = _replayed(problem, steps)
    assert moves is not None  # noqa: S101  (both searches only take steps that fit)
    return Order(moves, len(sashes) <= exact_up_to, method, sum(m.uncovered for m in moves), bound)


def _counted(homes: Sequence[str | None]) -> dict[str, int]:
    found: dict[str, int] = {}
    for home in homes:
        if home is not None:
            found[home] = found.get(home, 0) + 1
    return found


def _relaxed(start: int, gains: Sequence[int]) -> int:
    """Smallest sum over the steps if no group were ever full; a negative gain is a sash that becomes covered."""
    total = 0
    for gain in sorted(gains):
        start += gain
        total += start
    return total


def _fits(problem: _Problem, states: Sequence[int], sash: int) -> bool:
    target = problem.sashes[sash].target
    if target is None or target not in problem.room:
        return True
    free = problem.room[target]
    for i, state in enumerate(states):
        if state != _HOME or i == sash:
            free += problem.leaves[i].get(target, 0)
        if state == _THERE and problem.sashes[i].target == target:
            free -= problem.size[i]
    return free >= problem.size[sash]


def _replayed(problem: _Problem, steps: Sequence[tuple[int, int]]) -> list[Move] | None:
    """Make the moves of a list of steps; None where one does not fit."""
    states = [_HOME] * len(problem.sashes)
    uncovered = problem.elsewhere + sum(problem.at_home)
    moves = []
    for sash, to in steps:
        if to == _THERE and not _fits(problem, states, sash):
            return None
        before = problem.at_home[sash] if states[sash] == _HOME else problem.exposed[sash]
        uncovered += (problem.exposed[sash] if to == _OUTSIDE else problem.at_target[sash]) - before
        do: Literal["move", "park", "put-in"] = (
            "park" if to == _OUTSIDE else "put-in" if states[sash] == _OUTSIDE else "move"
        )
        if problem.sashes[sash].target is None and to == _THERE:
            do = "park"
        states[sash] = to
        moves.append(Move(do, problem.sashes[sash], uncovered))
    return moves


def _searched(problem: _Problem, gains: Sequence[int]) -> list[tuple[int, int]]:
    """Search the exact order: A*, smallest sum first, then fewest steps, then names."""
    count = len(problem.sashes)
    first = (_HOME,) * count
    start = problem.elsewhere + sum(problem.at_home)

    def rest(states: Sequence[int], uncovered: int) -> tuple[int, int]:
        left = [
            gains[i] if state == _HOME else problem.at_target[i] - problem.exposed[i]
            for i, state in enumerate(states)
            if state != _THERE
        ]
        return _relaxed(uncovered, left), len(left)

    bound, steps = rest(first, start)
    waiting: list[tuple[int, int, tuple[tuple[int, int], ...], tuple[int, ...], int, int]] = [
        (bound, steps, (), first, start, 0)
    ]
    best: dict[tuple[int, ...], tuple[int, int]] = {first: (0, 0)}
    while waiting:
        _, _, path, states, uncovered, cost = heapq.heappop(waiting)
        if all(state == _THERE for state in states):
            return list(path)
        if best[states] < (cost, len(path)):
            continue
        for sash, state in enumerate(states):
            if state == _THERE:
                continue
            before = problem.at_home[sash] if state == _HOME else problem.exposed[sash]
            for to in (_THERE, _OUTSIDE):
                if (to == _OUTSIDE and state != _HOME) or (to == _THERE and not _fits(problem, states, sash)):
                    continue
                after = problem.exposed[sash] if to == _OUTSIDE else problem.at_target[sash]
                now = uncovered + after - before
                reached = (*states[:sash], to, *states[sash + 1 :])
                price = (cost + now, len(path) + 1)
                if best.get(reached, (price[0] + 1, 0)) <= price:
                    continue
                best[reached] = price
                more, left = rest(reached, now)
                entry = (price[0] + more, price[1] + left, (*path, (sash, to)), reached, now, price[0])
                heapq.heappush(waiting, entry)
    raise NoOrder("no order of moves reaches the target: a group of the target is over its limit")


def _greedy(problem: _Problem, gains: Sequence[int]) -> list[tuple[int, int]]:
    """Take the move that gains most and fits; where none fits, the cheapest one at home waits outside."""
    states = [_HOME] * len(problem.sashes)
    steps = []
    while any(state != _THERE for state in states):
        open_ = [i for i, state in enumerate(states) if state != _THERE]
        fitting = [i for i in open_ if _fits(problem, states, i)]
        if fitting:
            chosen = min(
                fitting,
                key=lambda i: (gains[i] if states[i] == _HOME else problem.at_target[i] - problem.exposed[i], i),
            )
            to = _THERE
        else:
            at_home = [i for i in open_ if states[i] == _HOME and problem.leaves[i]]
            if not at_home:
                raise NoOrder("no order of moves reaches the target: a group of the target is over its limit")
            wanted = {problem.sashes[i].target for i in open_}
            chosen = min(
                at_home,
                key=lambda i: (
                    not wanted & problem.leaves[i].keys(),
                    problem.exposed[i] - problem.at_home[i],
                    -problem.size[i],
                    i,
                ),
            )
            to = _OUTSIDE
        states[chosen] = to
        steps.append((chosen, to))
    return steps
