"""The rounds: starts by hand calculation, and never more at one time than supplies and controllers bear."""

import itertools
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plans import plan as base_plan
from plans import site_of
from plants import on_the_bus, parted, planned, plant, serials_of

from zonecfg.figures import Figures
from zonecfg.identify.limits import Budget, Together, Traits, UnitLimits
from zonecfg.identify.rounds import spread
from zonecfg.identify.units import Unit

TRAVEL_S = 300 / 6


def every_round(timed):
    return [*timed.rounds, timed.closing]


def moved(start):
    return [*start.closed, *start.part, *start.open]


def goes_through(who, made, timed):
    """Positions after each round are the letters of the words; at the end all is closed."""
    stands = dict.fromkeys((unit.number for unit in who.units), 0)
    for place, one in enumerate(every_round(timed)):
        for start in one.starts:
            for letter, units in enumerate((start.closed, start.open)):
                assert all(stands[unit] != letter for unit in units)
                stands.update(dict.fromkeys(units, letter))
        expected = [word[place] for word in made.words] if place < made.length else [0] * len(who.units)
        assert list(stands.values()) == expected


def test_all_words_are_gone_through():
    data = plant([1, 2, 1, 1, 2])
    who, made, timed, _ = planned(data, on_the_bus(data))
    goes_through(who, made, timed)


@pytest.mark.parametrize("at_once", [1, 2, 3])
def test_starts_by_hand(at_once):
    """Six single windows: movers of a round in starts of ``at_once``, each 50 s after the one before."""
    data = plant([1] * 6)
    data["types"]["controllers"]["hall"]["moves_at_once"] = at_once
    _, made, timed, _ = planned(data, on_the_bus(data))
    letters = [(0,) * 6, *zip(*made.words, strict=True), (0,) * 6]
    for one, (before, after) in zip(every_round(timed), itertools.pairwise(letters), strict=True):
        movers = sum(a != b for a, b in zip(before, after, strict=True))
        starts = -(-movers // at_once)
        assert [start.at_s for start in one.starts] == [TRAVEL_S * n for n in range(starts)]
        assert one.still_after_s == TRAVEL_S * starts
        assert one.rest_s == 0


@pytest.mark.parametrize("stroke_mm", [299, 301, 307, 311])
def test_followed_by_a_watch_no_limit_is_passed(stroke_mm):
    """Starts are whole seconds, and no two overlap: 301 mm at 6 mm/s take 50.17 s, so the next begins at 51 s."""
    data = plant([1] * 6)
    for fields in data["actuators"].values():
        fields["stroke_mm"] = stroke_mm
    data["types"]["controllers"]["hall"]["moves_at_once"] = 1
    _, _, timed, _ = planned(data, on_the_bus(data))
    for one in every_round(timed):
        starts = [start.at_s for start in one.starts]
        assert all(at == int(at) for at in starts)
        assert all(later - earlier >= stroke_mm / 6 for earlier, later in itertools.pairwise(starts))
        assert all(later - earlier < stroke_mm / 6 + 1 for earlier, later in itertools.pairwise(starts))


def test_supply_by_hand():
    """At rest 6 × 0.02 A and 0.15 A; a mover adds 1.0 − 0.02 A: 2.3 A bear two, 2.2 A one, 1.2 A none."""
    for output, most in ((3.3, 3), (2.3, 2), (2.2, 1)):
        data = plant([1] * 6)
        data["types"]["supplies"]["psu"]["output_a"] = output
        _, _, timed, _ = planned(data, on_the_bus(data))
        assert max(len(moved(start)) for one in every_round(timed) for start in one.starts) == most
    data["types"]["supplies"]["psu"]["output_a"] = 1.25
    assert list(UnitLimits(Figures(site_of(data)), parted(data, on_the_bus(data))).faults()) == []
    data["types"]["supplies"]["psu"]["output_a"] = 1.2
    who = parted(data, on_the_bus(data))
    limits = UnitLimits(Figures(site_of(data)), who)
    assert [(because, ids) for because, ids in limits.faults()] == [
        ("PS-1 gives 1.2 A; one sash moving and all else at rest take 1.25 A", ("PS-1",))
    ]


def test_what_a_controller_passes_on():
    """Power runs through C-1: 6 × 0.02 A at rest, 0.98 A more a mover; 2.1 A bear two."""
    data = plant([1] * 6)
    data["types"]["controllers"]["hall"]["output_a"] = 2.1
    _, _, timed, _ = planned(data, on_the_bus(data))
    assert max(len(moved(start)) for one in every_round(timed) for start in one.starts) == 2


def test_rest_of_a_duty():
    """At 50 % an actuator that moved 50 s rests 50 s; looking at 6 windows takes 30 s of it."""
    data = plant([1] * 6)
    data["types"]["actuators"]["chain"]["duty_percent"] = 50
    _, made, timed, _ = planned(data, on_the_bus(data))
    letters = [(0,) * 6, *zip(*made.words, strict=True), (0,) * 6]
    moves = [{n for n in range(6) if a[n] != b[n]} for a, b in itertools.pairwise(letters)]
    for number, one in enumerate(every_round(timed)):
        again = number > 0 and moves[number] & moves[number - 1]
        assert one.rest_s == (20 if again else 0)


@pytest.mark.parametrize("duty_percent", [10, 30, 100])
def test_one_unit_by_a_watch(duty_percent):
    """One window that moves 50 s and may move a share of the time; looking takes 5 s, and a round may move nothing."""
    data = plant([1])
    data["types"]["actuators"]["chain"]["duty_percent"] = duty_percent
    _, made, timed, _ = planned(data, on_the_bus(data))
    now, ready, stands, rests, still = 0, 0, 0, [], []
    for letter in (*made.words[0], 0):
        moves = letter != stands
        rests.append(max(-(-(ready - now) // 1), 0) if moves else 0)
        still.append(50 if moves else 0)
        now += rests[-1]
        ready = now + 50 / (duty_percent / 100) if moves else ready
        now += still[-1] + 5
        stands = letter
    assert 0 in still
    assert [one.rest_s for one in every_round(timed)] == rests
    assert [one.still_after_s for one in every_round(timed)] == still
    assert [len(one.starts) for one in every_round(timed)] == [bool(s) for s in still]
    assert timed.minutes == pytest.approx(now / 60)


def test_half_the_way_takes_half_the_time():
    data = plant([1] * 6)
    who, made, timed, _ = planned(data, on_the_bus(data), levels=3)
    letters = [(0,) * 6, *zip(*made.words, strict=True), (0,) * 6]
    for one, (before, after) in zip(every_round(timed), itertools.pairwise(letters), strict=True):
        assert one.still_after_s == TRAVEL_S * max(abs(a - b) for a, b in zip(before, after, strict=True)) / 2
    first = {unit.number: word[0] for unit, word in zip(who.units, made.words, strict=True)}
    (start,) = timed.rounds[0].starts
    assert set(start.part) == {unit for unit, letter in first.items() if letter == 1}
    assert set(start.open) == {unit for unit, letter in first.items() if letter == 2}


def test_minutes_by_hand():
    """One by one: 50 s open, 50 s close, and 5 s a window for half of the windows left."""
    data = plant([1, 1, 1])
    _, made, timed, _ = planned(data, on_the_bus(data))
    assert timed.minutes_one_by_one == pytest.approx((3 * 100 + 5 * (4 / 2 + 3 / 2 + 2 / 2)) / 60)
    moving = sum(one.still_after_s for one in every_round(timed))
    assert timed.minutes == pytest.approx((moving + 5 * 3 * (made.length + 1)) / 60)


def test_what_is_not_known_moves_one_at_a_time():
    data = plant([1] * 4, cables=False)
    who, made, timed, limits = planned(data, on_the_bus(data))
    goes_through(who, made, timed)
    assert max(len(moved(start)) for one in every_round(timed) for start in one.starts) == 1
    assert limits.remarks == ["1 unit on C-1 at a time, since no cable carries power"]
    data = plant([1] * 4)
    del data["types"]["actuators"]["chain"]["speed_mm_s"]
    _, _, timed, _ = planned(data, on_the_bus(data))
    assert timed.minutes is timed.minutes_one_by_one is None
    assert {start.at_s for one in every_round(timed) for start in one.starts} == {None}
    assert {(one.rest_s, one.still_after_s) for one in every_round(timed)} == {(None, None)}


def together(budgets, at_once, units):
    """Offer units one after the other, each by what it draws, its controllers, and whether it may move with its like."""
    traits = {
        number: Traits(whole_s=None, duty=1, controllers=controllers, draws=draws, alone=alone)
        for number, (draws, controllers, alone) in enumerate(units)
    }
    limits = SimpleNamespace(
        traits=traits,
        at_once=at_once,
        budgets={
            name: Budget(name=name, limit_a=limit, rest_a=rest, places=places)
            for name, (limit, rest, places) in budgets.items()
        },
    )
    start = Together(limits)
    taken = [start.take(SimpleNamespace(number=number)) for number in traits]
    assert [unit.number for unit in start.units] == [number for number, took in enumerate(taken) if took]
    return taken


@pytest.mark.parametrize(
    ("budgets", "at_once", "units", "taken"),
    [
        ({"PS": (2.0, 0.5, 9)}, {}, [({"PS": 0.5}, (), False)] * 4, [True, True, True, False]),
        ({"PS": (1.999, 0.5, 9)}, {}, [({"PS": 0.5}, (), False)] * 3, [True, True, False]),
        ({"PS": (2.0, 0.5, 2)}, {}, [({"PS": 0.5}, (), False)] * 4, [True] * 4),  # two windows hang on it
        ({"PS": (2.0, 0.5, 2)}, {}, [({"PS": a}, (), False) for a in (0.5, 1.0, 0.6, 0.5)], [True, True, False, True]),
        ({}, {"C": 2}, [({}, ("C",), False)] * 3, [True, True, False]),
        ({}, {"C": 1}, [({}, ("C",), False), ({}, ("D",), False), ({}, ("C", "D"), False)], [True, True, False]),
        ({}, {}, [({}, (), alone) for alone in (True, False, True, False)], [True, True, False, True]),
    ],
)
def test_who_is_set_moving_together(budgets, at_once, units, taken):
    """Counted by hand: currents of as many as hang on a supply, moves of a controller, one of which a limit is not known."""
    assert together(budgets, at_once, units) == taken


def test_like_words_go_to_different_controllers():
    """Six words from the one that moves least: they go to the two controllers in turn."""
    units = [
        Unit(number=n, members=(), controller=controller, type=None)
        for n, controller in enumerate(["C-1", "C-1", "C-1", "C-2", "C-2", "C-2"], 1)
    ]
    assert spread(units, [(n,) for n in range(6)]) == ((0,), (2,), (4,), (1,), (3,), (5,))


OUTPUT, PEAK = ("supplies", "psu", "output_a"), ("actuators", "chain", "peak_a")


@pytest.mark.parametrize(
    ("missing", "controllers", "typed", "remark"),
    [
        (OUTPUT, 1, False, "1 unit on C-1 at a time, since PS-1: output_a is not given"),
        (OUTPUT, 1, True, "1 unit of type chain on C-1 at a time, since PS-1: output_a is not given"),
        (OUTPUT, 2, True, "1 unit of type chain at a time, since PS-1: output_a is not given"),
        (OUTPUT, 2, False, "1 unit at a time, since PS-1: output_a is not given"),
        (PEAK, 1, False, "supplies are held against running currents only where peak_a of the actuators is not given"),
    ],
)
def test_remarks_on_what_is_not_known(missing, controllers, typed, remark):
    data = plant([1] * 3)
    if controllers == 2:
        data["controllers"]["C-2"] = {"type": "hall"}
        data["groups"]["G"]["controller"] = "C-1"
    section, kind, field = missing
    del data["types"][section][kind][field]
    _, _, _, limits = planned(data, on_the_bus(data, typed=typed))
    assert limits.remarks == [remark]


def traits_of(data, found=None):
    """Give what the first unit needs, and what is remarked of it."""
    limits = UnitLimits(Figures(site_of(data)), parted(data, found or on_the_bus(data)))
    return limits.traits[1], limits.remarks


def test_what_a_unit_needs_is_that_of_its_worst_window():
    """300 and 240 mm, 6 and 4 mm/s, 1.0 and 0.8 A, 50 % of the time: the longest way at the lowest speed, and so on."""
    data = plant([1, 1])
    data["types"]["actuators"]["other"] = {
        **data["types"]["actuators"]["chain"], "speed_mm_s": 4, "peak_a": 0.8, "duty_percent": 50,
    }  # fmt: skip
    data["actuators"]["A-2-1"] |= {"type": "other", "stroke_mm": 240}
    worst = Traits(whole_s=75, duty=0.5, controllers=("C-1",), draws={"PS-1": 0.98, "C-1": 0.98}, alone=False)
    assert traits_of(data) == (worst, [])
    typed = on_the_bus(data, typed=True)
    assert [f.type for f in typed] == ["chain", "other"]
    own = Traits(whole_s=50, duty=1.0, controllers=("C-1",), draws={"PS-1": 0.98, "C-1": 0.98}, alone=False)
    assert traits_of(data, typed) == (own, [])
    data["controllers"]["C-2"] = {"type": "hall"}
    data["groups"]["G"]["controller"] = "C-1"
    assert traits_of(data)[0].controllers == ("C-1", "C-2")
    assert traits_of(data, on_the_bus(data, controller="C-1"))[0].controllers == ("C-1",)


def test_actuators_of_a_type_as_they_are():
    """One says itself that it is slower than its type; one of no type is slower still, and may be what nobody typed."""
    data = plant([1, 1])
    data["actuators"]["A-1-1"]["speed_mm_s"] = 4
    data["actuators"]["A-2-1"] = {"opening": "W-2", "stroke_mm": 300, "speed_mm_s": 3}
    assert traits_of(data)[0].whole_s == 100
    found = [type(f)(serial=f.serial, row=f.row, type="chain") for f in on_the_bus(plant([1, 1]))]
    assert traits_of(data, found)[0].whole_s == 75
    data["actuators"]["A-1-1"]["speed_mm_s"], data["actuators"]["A-2-1"]["speed_mm_s"] = 3, 4
    untyped = [type(f)(serial=f.serial, row=f.row) for f in found]
    assert traits_of(data, untyped)[0].whole_s == 100


def test_a_plan_without_types_and_without_currents():
    data = plant([1])
    data["actuators"]["A-1-1"] = {"opening": "W-1", "stroke_mm": 300, "speed_mm_s": 6}
    del data["types"]["actuators"]
    traits, (remark,) = traits_of(data)
    assert remark.endswith(" and running_a of the actuators is not given")
    assert (traits.whole_s, traits.draws, traits.alone) == (50, {}, True)


def test_a_pair_draws_twice_and_running_current_where_no_peak_is_given():
    data = plant([2])
    assert traits_of(data)[0].draws == {"PS-1": 1.96, "C-1": 1.96}
    del data["types"]["actuators"]["chain"]["peak_a"]
    assert traits_of(data)[0].draws == {"PS-1": pytest.approx(1.56), "C-1": pytest.approx(1.56)}


def test_what_one_window_lacks_holds_for_a_unit_that_may_be_there():
    data = plant([1, 1])
    data["types"]["actuators"]["bare"] = dict(data["types"]["actuators"]["chain"])
    del data["types"]["actuators"]["bare"]["speed_mm_s"]
    data["actuators"]["A-2-1"]["type"] = "bare"
    assert traits_of(data)[0].whole_s is None
    assert traits_of(data, on_the_bus(data, typed=True))[0].whole_s == 50
    for peak, running in ((1.0, 0.8), (None, None)):
        data["types"]["actuators"]["bare"] |= {"peak_a": peak, "running_a": running, "speed_mm_s": 6}
        data["types"]["actuators"]["bare"] = {
            k: v for k, v in data["types"]["actuators"]["bare"].items() if v is not None
        }
        assert traits_of(data)[0].alone == (running is None)
    data = plant([1, 1])
    del data["cables"]["K-2"]
    data["actuators"]["A-2-1"].pop("group", None)
    traits, remarks = traits_of(data)
    assert traits.alone
    assert remarks == ["1 unit on C-1 at a time, since no power cable leads to W-2"]


def test_a_unit_of_a_type_moves_as_the_type_says():
    """The plan gives the actuators no type, and the found list does: 300 mm at 3 mm/s and 2 A of 3.3 A, one at a time."""
    data = plant([1] * 4)
    data["types"]["actuators"]["slow"] = {**data["types"]["actuators"]["chain"], "speed_mm_s": 3, "peak_a": 2.0}
    data["types"]["supplies"]["psu"]["output_a"] = 3.3
    for fields in data["actuators"].values():
        del fields["type"]
        fields |= {"peak_a": 1.0, "idle_a": 0.02, "running_a": 0.8}
    found = [type(f)(serial=f.serial, row=f.row, type="slow") for f in on_the_bus(data)]
    _, _, timed, limits = planned(data, found)
    assert limits.remarks == []
    assert {start.at_s for one in every_round(timed) for start in one.starts} >= {0, 100}
    assert {len(moved(start)) for one in every_round(timed) for start in one.starts} == {1}


@pytest.mark.parametrize(
    ("section", "kind", "field", "value", "because"),
    [
        ("supplies", "psu", "output_v", 150, "PS-1: output_v is over 120 V DC"),
        ("controllers", "hall", "idle_a", None, "PS-1: idle_a of the controller is not given"),
    ],
)
def test_why_a_supply_is_not_held(section, kind, field, value, because):
    data = plant([1, 1])
    data["types"][section][kind][field] = value
    if value is None:
        del data["types"][section][kind][field]
    traits, remarks = traits_of(data)
    assert traits.alone
    assert remarks == [f"1 unit on C-1 at a time, since {because}"]


def test_one_supply_of_two_that_does_not_say_what_it_gives():
    data = plant([1, 1])
    data["types"]["supplies"]["bare"] = {"output_v": 24}
    data["supplies"]["PS-2"] = {"type": "bare"}
    data["controllers"]["C-2"] = {"type": "hall"}
    data["cables"] = {
        f"K-{a}": {"from": a, "to": b, "length_m": 2, "type": "pair", "carries": ["power", "bus"]}
        for a, b in (("PS-1", "C-1"), ("C-1", "A-1-1"), ("PS-2", "C-2"), ("C-2", "A-2-1"))
    }
    data["groups"] = {f"G-{n}": {"controller": f"C-{n}", "actuators": [f"A-{n}-1"]} for n in (1, 2)}
    _, _, _, limits = planned(data, on_the_bus(data))
    assert limits.remarks == ["1 unit at a time, since PS-2: output_a is not given"]
    home = {serial: f"C-{name[2]}" for name, serial in serials_of(data).items()}
    found = [type(f)(serial=f.serial, row=f.row, controller=home[f.serial]) for f in on_the_bus(data)]
    _, _, _, limits = planned(data, found)
    assert limits.remarks == ["1 unit on C-2 at a time, since PS-2: output_a is not given"]


@settings(deadline=None)
@given(st.data())
def test_limits_hold_wherever_the_units_are(data):
    """Any placing of serials at windows: no supply gives more than it has, no controller moves more than it may.

    Two controllers with a supply each; the found list names the controller or does not. Currents are summed anew here.
    """
    sizes = data.draw(st.lists(st.integers(1, 2), min_size=2, max_size=10))
    at_once = data.draw(st.integers(1, 4))
    output = data.draw(st.floats(3.5, 8))
    told = data.draw(st.booleans())
    split = data.draw(st.integers(1, len(sizes) - 1))
    plan = plant(sizes)
    plan["types"]["controllers"]["hall"]["moves_at_once"] = at_once
    plan["types"]["supplies"]["psu"]["output_a"] = output
    plan["controllers"]["C-2"] = {"type": "hall"}
    plan["supplies"]["PS-2"] = {"type": "psu"}
    side = {name: 1 if int(name.split("-")[1]) <= split else 2 for name in plan["actuators"]}
    chains = [[f"PS-{n}", f"C-{n}", *(a for a in side if side[a] == n)] for n in (1, 2)]
    plan["cables"] = {
        f"K-{a}-{b}": {"from": a, "to": b, "length_m": 2, "type": "pair", "carries": ["power", "bus"]}
        for chain in chains
        for a, b in itertools.pairwise(chain)
    }
    plan["groups"] = {
        f"G-{n}": {"controller": f"C-{n}", "actuators": [a for a in side if side[a] == n]} for n in (1, 2)
    }
    found = on_the_bus(plan)
    if told:
        home = {serial: f"C-{side[name]}" for name, serial in serials_of(plan).items()}
        found = [type(f)(serial=f.serial, row=f.row, set=f.set, controller=home[f.serial]) for f in found]
    who, made, timed, _ = planned(plan, found)
    goes_through(who, made, timed)
    truth = {serial: name for name, serial in serials_of(plan).items()}
    unit_of = {unit.number: unit for unit in who.units}
    kind = base_plan()["types"]["actuators"]["chain"]
    for one in every_round(timed):
        for start in one.starts:
            names = [truth[serial] for unit in moved(start) for serial in unit_of[unit].serials]
            for n in (1, 2):
                here = [name for name in names if side[name] == n]
                on = sum(side[name] == n for name in side)
                amp = 0.15 + kind["idle_a"] * on + (kind["peak_a"] - kind["idle_a"]) * len(here)
                assert amp <= output + 1e-9
                assert len({plan["actuators"][name]["opening"] for name in here}) <= at_once
