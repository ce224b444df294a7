"""The order of moves against brute force over every order, on small random plants."""

from functools import lru_cache

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from zonecfg.rollback.moves import Sash, order_moves

GROUPS = ("east", "north", "west")


def cheapest(sashes, covering, exposed, room, elsewhere):
    """Smallest sum over the steps, then fewest steps, by trying every order and every wait outside."""

    def uncovered(states):
        total = elsewhere
        for sash, state in zip(sashes, states, strict=True):
            for actuator, home in zip(sash.actuators, sash.homes, strict=True):
                group = (home, None, sash.target)[state]
                total += actuator in exposed and group not in covering
        return total

    def fits(states):
        for group, places in room.items():
            free = places
            for sash, state in zip(sashes, states, strict=True):
                free += sum(home == group for home in sash.homes) if state else 0
                free -= len(sash.actuators) if state == 2 and sash.target == group else 0
            if free < 0:
                return False
        return True

    @lru_cache(None)
    def rest(states):
        if set(states) <= {2}:
            return 0, 0
        best = None
        for i, state in enumerate(states):
            for to in {0: (1, 2), 1: (2,), 2: ()}[state]:
                after = (*states[:i], to, *states[i + 1 :])
                if fits(after) and (later := rest(after)) is not None:
                    cost = later[0] + uncovered(after), later[1] + 1
                    best = cost if best is None else min(best, cost)
        return best

    return rest((0,) * len(sashes))


@st.composite
def plants(draw, most=5):
    sashes = []
    for i in range(draw(st.integers(1, most))):
        home = draw(st.sampled_from((*GROUPS, None)))
        target = draw(st.sampled_from([g for g in (*GROUPS, None) if g != home]))
        actuators = tuple(f"A-{i}{part}" for part in range(draw(st.integers(1, 2))))
        sashes.append(Sash(f"W-{i}", actuators, (home,) * len(actuators), target))
    everyone = [a for sash in sashes for a in sash.actuators]
    covering = draw(st.frozensets(st.sampled_from(GROUPS)))
    exposed = frozenset(a for a in everyone if draw(st.booleans()) or draw(st.booleans()))
    room = {}
    for group in GROUPS:
        come = sum(len(s.actuators) for s in sashes if s.target == group)
        go = sum(home == group for s in sashes for home in s.homes)
        room[group] = max(come - go, 0) + draw(st.integers(0, 2))  # what the target needs, and little more
    return sashes, covering, exposed, room, draw(st.integers(0, 3))


def all_want_the_east():
    """Three at a time: whoever comes in from outside must not be thought to cost anything."""
    homes = {"W-1": None, "W-2": "south", "W-3": "south", "W-4": "west", "W-5": "east"}
    sashes = [
        Sash(
            name, tuple(f"A{name[1:]}{part}" for part in "abc"), (home,) * 3, "east" if number in {1, 2, 3} else "west"
        )
        for number, (name, home) in enumerate(homes.items())
    ]
    exposed = frozenset(a for s in sashes for a in s.actuators) - {"A-4c"}
    return sashes, frozenset({"east", "west"}), exposed, {"east": 6, "west": 3}, 1


@example(all_want_the_east())
@given(plants())
def test_exact_order_is_the_best_of_all_orders(plant):
    sashes, covering, exposed, room, elsewhere = plant
    order = order_moves(sashes, covering=covering, exposed=exposed, room=room, elsewhere=elsewhere)
    found = sum(move.uncovered for move in order.moves), len(order.moves)
    assert found == cheapest(tuple(sashes), covering, exposed, room, elsewhere)
    assert order.exact
    assert order.bound <= found[0]


@st.composite
def full(draw):
    """Every group so full that nobody moves before somebody waits outside."""
    one, two, three = draw(st.permutations(GROUPS))
    room = dict.fromkeys(GROUPS, 0)
    if draw(st.booleans()):
        ring = draw(st.sampled_from((((one, two), (two, one)), ((one, two), (two, three), (three, one)))))
        sizes = draw(st.lists(st.integers(1, 2), min_size=1, max_size=2))
        moves = [(home, target, size) for size in sizes for home, target in ring]
    else:  # the pair finds one place, and the two that take its places find none; nobody goes to the south
        moves = [(one, two, 2), (two, one, 1), ("south", one, 1)]
        room[two] = 1
    sashes = []
    for i, (home, target, size) in enumerate(moves):
        actuators = tuple(f"A-{i}{part}" for part in range(size))
        sashes.append(Sash(f"W-{i}", actuators, (home,) * size, target))
    everyone = [a for sash in sashes for a in sash.actuators]
    if draw(st.booleans()):
        sashes.append(Sash("W-9", ("A-9",), (draw(st.sampled_from((*GROUPS, None))),), None))
    exposed = frozenset(a for a in everyone if draw(st.booleans()) or draw(st.booleans()))
    return sashes, draw(st.frozensets(st.sampled_from(GROUPS))), exposed, room, 0


@given(full())
def test_exact_order_between_full_groups_is_the_best_of_all_orders(plant):
    sashes, covering, exposed, room, elsewhere = plant
    order = order_moves(sashes, covering=covering, exposed=exposed, room=room, elsewhere=elsewhere)
    found = sum(move.uncovered for move in order.moves), len(order.moves)
    assert found == cheapest(tuple(sashes), covering, exposed, room, elsewhere)
    assert order.exact
    assert order.cost == found[0]


def pair_against_two(home_of_the_last, room, exposed):
    """A pair of the east and two of the west and elsewhere change places; rain closes all of the east and west."""
    sashes = [
        Sash("W-1", ("A-1a", "A-1b"), ("east", "east"), "west"),
        Sash("W-2", ("A-2",), ("west",), "east"),
        Sash("W-3", ("A-3",), (home_of_the_last,), "east"),
    ]
    return sashes, frozenset({"east", "west"}), frozenset(exposed), {"east": 0, "west": room}, 0


@example(pair_against_two("south", 1, {"A-1a", "A-1b", "A-2", "A-3"}))  # W-3 waits at no cost, but to no use
@example(pair_against_two("west", 0, {"A-1a", "A-1b"}))  # two have to wait before anybody moves
@given(full() | plants())
def test_beyond_the_exact_search_what_gains_most_and_fits_goes_next(plant):
    """Replayed on plain sets: before each move, who fits and what each would bring are counted anew.

    Where nobody fits, one waits outside whose group somebody wants, of those that costs least, of those the largest.
    """
    sashes, covering, exposed, room, elsewhere = plant
    order = order_moves(sashes, covering=covering, exposed=exposed, room=room, elsewhere=elsewhere, exact_up_to=0)
    homes = {a: h for s in sashes for a, h in zip(s.actuators, s.homes, strict=True)}

    def bare(where):
        return elsewhere + sum(a in exposed and g not in covering for a, g in where.items())

    def moved(where, sash, group):
        return {**where, **dict.fromkeys(sash.actuators, group)}

    def fits(sash):
        after = moved(homes, sash, sash.target)
        came, went = list(after.values()).count(sash.target), list(start.values()).count(sash.target)
        return sash.target not in room or came - went <= room[sash.target]

    def to_wait(sash):
        unwanted = not {homes[a] for a in sash.actuators} & {other.target for other in left}
        return unwanted, bare(moved(homes, sash, None)), -len(sash.actuators)

    start, left = dict(homes), list(sashes)
    for move in order.moves:
        fitting = [sash for sash in left if fits(sash)]
        waits = move.do == "park" and move.sash.target is not None
        if waits:
            assert not fitting
            inside = [sash for sash in left if any(homes[a] is not None for a in sash.actuators)]
            assert move.sash in inside
            assert to_wait(move.sash) == min(map(to_wait, inside))
        else:
            assert move.sash in fitting
            best = min(bare(moved(homes, sash, sash.target)) for sash in fitting)
            assert bare(moved(homes, move.sash, move.sash.target)) == best
            left.remove(move.sash)
        homes = moved(homes, move.sash, None if waits else move.sash.target)
        assert move.uncovered == bare(homes)
    assert not left


@given(plants())
def test_heuristic_fits_and_tells_its_gap(plant):
    sashes, covering, exposed, room, elsewhere = plant
    best = cheapest(tuple(sashes), covering, exposed, room, elsewhere)[0]
    order = order_moves(sashes, covering=covering, exposed=exposed, room=room, elsewhere=elsewhere, exact_up_to=0)
    assert order.bound <= best <= order.cost
    assert order.exact == (order.method.startswith("by gain"))


@given(plants(), st.randoms(use_true_random=False))
def test_the_order_of_the_input_does_not_matter(plant, random):
    sashes, covering, exposed, room, elsewhere = plant
    mixed = list(sashes)
    random.shuffle(mixed)
    asked = {"covering": covering, "exposed": exposed, "room": room, "elsewhere": elsewhere}
    assert order_moves(sashes, **asked) == order_moves(mixed, **asked)


def test_where_no_group_fills_up_the_order_is_exact_however_many_move():
    """Thirty sashes: those that rain closing reaches in the end go first, those that it leaves go last."""
    ways_to_go = ((None, "east"), ("east", "west"), ("west", None))
    sashes = [Sash(f"W-{n}", (f"A-{n}",), (ways_to_go[n % 3][0],), ways_to_go[n % 3][1]) for n in range(30)]
    found = order_moves(
        sashes,
        covering=frozenset({"east", "west"}),
        exposed=frozenset(a for s in sashes for a in s.actuators),
        room={"east": 10},
        elsewhere=2,
    )
    assert (found.exact, found.method) == (True, "by gain: no group fills up on the way")
    assert [move.uncovered for move in found.moves] == [*range(11, 1, -1), *[2] * 10, *range(3, 13)]
    assert found.cost == found.bound == sum(move.uncovered for move in found.moves)


@pytest.mark.parametrize(
    ("exact_up_to", "method"),
    [(2, "A* over sashes at home, outside and in place"), (1, "the move that gains most and fits goes next")],
)
def test_two_full_groups_swap_by_one_waiting_outside(exact_up_to, method):
    """A cycle of full groups needs one sash outside, once."""
    sashes = [
        Sash("W-1", ("A-1",), ("east",), "west"),
        Sash("W-2", ("A-2",), ("west",), "east"),
    ]
    order = order_moves(
        sashes,
        covering=frozenset({"east", "west"}),
        exposed=frozenset({"A-1", "A-2"}),
        room={"east": 0, "west": 0},
        elsewhere=0,
        exact_up_to=exact_up_to,
    )
    assert (order.exact, order.method) == (exact_up_to == 2, method)
    assert [move.do for move in order.moves] == ["park", "move", "put-in"]
    assert [move.uncovered for move in order.moves] == [1, 1, 0]


def test_beyond_the_exact_search_who_waits_outside_uncovered_comes_in_first():
    """All groups are full and closed by rain. W-2 waits outside; W-1 could go where it goes, but stands covered."""
    sashes = [
        Sash("W-1", ("A-1",), ("north",), "west"),
        Sash("W-2", ("A-2a", "A-2b"), ("east", "east"), "west"),
        Sash("W-3", ("A-3a", "A-3b"), ("west", "west"), "east"),
        Sash("W-4", ("A-4",), ("west",), "north"),
    ]
    found = order_moves(
        sashes,
        covering=frozenset(GROUPS),
        exposed=frozenset({"A-1", "A-2a", "A-3a", "A-3b", "A-4"}),
        room=dict.fromkeys(GROUPS, 0),
        elsewhere=0,
        exact_up_to=0,
    )
    told = [(move.do, move.sash.name) for move in found.moves]
    assert told[:3] == [("park", "W-2"), ("move", "W-3"), ("put-in", "W-2")]


def replayed(moves, room):
    """Play moves on a plain dictionary; give where everybody ends, and fail where a group gets too full."""
    where, free = {}, dict(room)
    for move in moves:
        sash = move.sash
        homes = where.get(sash.name, sash.homes)
        for home in homes:
            if home in free:
                free[home] += 1
        to = None if move.do == "park" else sash.target
        if to in free:
            free[to] -= len(sash.actuators)
            assert free[to] >= 0, f"{to} gets too full at {sash.name}"
        where[sash.name] = (to,) * len(sash.actuators)
    return where


@given(st.permutations([*range(18)]), st.integers(1, 3), st.booleans())
def test_beyond_the_exact_search_full_groups_still_swap_safely(order, rings, pairs):
    """18 sashes of full groups in one to three rings: more than are searched exactly."""
    sashes = []
    for number in order:
        ring, place = number % rings, (number // rings) % 3
        names = [f"ring-{ring}-{step}" for step in range(3)]
        actuators = tuple(f"A-{number}{part}" for part in ("ab" if pairs else "a"))
        sashes.append(Sash(f"W-{number}", actuators, (names[place],) * len(actuators), names[(place + 1) % 3]))
    come = {s.target for s in sashes} | {s.homes[0] for s in sashes}
    room = dict.fromkeys(come, 0)
    for sash in sashes:  # a ring of uneven sides has the places that its target needs, and no more
        room[sash.target] += len(sash.actuators)
        room[sash.homes[0]] -= len(sash.actuators)
    room = {group: max(places, 0) for group, places in room.items()}
    exposed = frozenset(a for s in sashes for a in s.actuators)
    found = order_moves(sashes, covering=frozenset(come), exposed=exposed, room=room, elsewhere=0)
    where = replayed(found.moves, room)
    assert where == {s.name: (s.target,) * len(s.actuators) for s in sashes}
    assert not found.exact
    assert found.method == "the move that gains most and fits goes next"
    assert found.bound <= found.cost
    assert 1 <= sum(move.do == "park" for move in found.moves) <= len(sashes) / 3  # at most one a cycle of three
