"""Who may move: sets stay whole, what must not move stays still, and what is not told stops everything."""

from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plans import site_of
from plants import on_the_bus, parted, plant, serials_of

from zonecfg.errors import UnreadableSheet, UnreadableSite
from zonecfg.identify.fitting import Kind, fits
from zonecfg.identify.found import OnBus
from zonecfg.identify.resolve_first import Window, before_special, faults_of_three
from zonecfg.identify.units import _units

SMOKE = {"openings": {"W-2": {"smoke_vent": True}}}


def known(data, *names):
    """Write down the serials of some actuators."""
    for name in names:
        data["actuators"][name]["serial"] = serials_of(data)[name]
    return data


def test_single_windows():
    data = plant([1, 1, 1])
    who = parted(data, on_the_bus(data))
    assert [unit.serials for unit in who.units] == [("7000",), ("7001",), ("7002",)]
    assert [window.opening for window in who.windows] == ["W-1", "W-2", "W-3"]
    assert (who.first, who.remarks) == ((), ())


def test_known_actuators_stay_still():
    data = known(plant([1, 1, 1]), "A-2-1")
    who = parted(data, on_the_bus(data))
    assert [window.opening for window in who.windows] == ["W-1", "W-3"]
    assert serials_of(data)["A-2-1"] not in {serial for unit in who.units for serial in unit.serials}


def test_pairs_without_sets_stop_everything():
    data = plant([1, 2, 2])
    who = parted(data, on_the_bus(data, sets=False))
    (first,) = who.first
    assert first.ids == ("W-2", "W-3")
    assert first.because == (
        "W-2 and W-3 have 2 actuators each, and the found list tells 0 sets of 2; one moving alone can break a sash"
    )
    for words in ("labels", "isolate", "column set", "--isolated"):
        assert words in first.how


def test_one_pair_without_a_set_stops_everything():
    """Half of an untold pair looks like a single actuator."""
    data = plant([1, 2, 2])
    found = [f if f.set != "W-3" else OnBus(serial=f.serial, row=f.row) for f in on_the_bus(data)]
    assert [first.ids for first in parted(data, found).first] == [("W-2", "W-3")]


def test_one_of_a_pair_off_the_bus_stops_everything():
    data = plant([1, 2])
    dead = serials_of(data)["A-2-2"]
    assert parted(data, [f for f in on_the_bus(data) if f.serial != dead]).first


def test_sets_move_as_one():
    data = plant([1, 2, 3])
    who = parted(data, on_the_bus(data))
    assert not who.first
    assert sorted(len(unit.serials) for unit in who.units) == [1, 2, 3]


def test_isolated_windows_take_no_part():
    data = plant([1, 2, 1])
    cut = {serials_of(data)[name] for name in ("A-2-1", "A-2-2")}
    found = [f for f in on_the_bus(data, sets=False) if f.serial not in cut]
    assert parted(data, found).first
    who = parted(data, found, isolated=("W-2",))
    assert not who.first
    assert [window.opening for window in who.windows] == ["W-1", "W-3"]
    with pytest.raises(UnreadableSite, match="no such opening"):
        parted(data, found, isolated=("W-9",))
    with pytest.raises(UnreadableSheet, match=r"^found.csv: \S+ of A-2-1 answers, so W-2 is not isolated$"):
        parted(known(data, "A-2-1"), on_the_bus(data), isolated=("W-2",))


def test_the_partner_of_a_known_actuator():
    """Known by its set without moving; without the set nothing moves, since it may be any of them."""
    data = known(plant([1, 2]), "A-2-1")
    who = parted(data, on_the_bus(data))
    assert [(p.serial, p.opening, p.actuator) for p in who.by_set] == [(serials_of(data)["A-2-2"], "W-2", "A-2-2")]
    assert who.remarks == ()
    assert [window.opening for window in who.windows] == ["W-1"]
    (first,) = parted(data, on_the_bus(data, sets=False)).first
    assert first.ids == ("W-2",)
    assert "A-2-2 moves the sash of W-2 with A-2-1, whose serial is known" in first.because


def test_with_nothing_to_move_nothing_is_asked_first():
    """Only the known one of a pair is on the bus, without its set: no unknown serial can be told to move."""
    data = known(plant([2]), "A-1-1")
    who = parted(data, [OnBus(serial=serials_of(data)["A-1-1"], row=2)])
    assert (who.units, who.first) == ((), ())


def test_partners_of_a_known_actuator_in_words():
    """Two of three are not known: both are named, and what to do is said."""
    data = known(plant([3]), "A-1-1")
    (first,) = parted(data, on_the_bus(data, sets=False)).first
    assert first.because == (
        "A-1-2 and A-1-3 move the sash of W-1 with A-1-1, whose serial is known; one moving alone can break it"
    )
    assert "column set" in first.how
    data = known(plant([2]), "A-1-2")
    (first,) = parted(data, on_the_bus(data, sets=False)).first
    assert first.because.startswith("A-1-1 moves the sash of W-1 with A-1-2, whose serial is known;")


def test_what_must_not_move_in_words():
    told = list(before_special([("it is a vent", "W-1", ["A-1"]), ("who knows", None, ["A-2", "A-3"])]))
    assert [(first.ids, first.because) for first in told] == [
        (("W-1",), "A-1 must not move among the others: it is a vent, and any unknown serial may be theirs"),
        (("A-2", "A-3"), "A-2 and A-3 must not move among the others: who knows, and any unknown serial may be theirs"),
    ]
    assert {first.how for first in told} == {"read the labels there and write the serials into the plan"}


@pytest.mark.parametrize(
    ("gaps", "faults"),
    [
        ({50: 100, 100: 250}, []),
        ({50: 100, 100: 249.5}, ["half open and open less than 150 mm apart: W-1 (150 mm)"]),
        ({50: 100, 100: 240}, ["half open and open less than 150 mm apart: W-1 (140 mm)"]),
        ({50: None, 100: 250}, ["half open and open less than 150 mm apart: W-1 (unknown)"]),
        ({50: 100, 100: None}, ["half open and open less than 150 mm apart: W-1 (unknown)"]),
    ],
)
def test_three_positions_are_150_mm_apart(gaps, faults):
    record = SimpleNamespace(actuators={"A-1": SimpleNamespace(calibrated=True)})
    figures = SimpleNamespace(site=SimpleNamespace(record=record), gap_at=lambda opening, percent: gaps[percent])
    assert faults_of_three(figures, [Window(opening="W-1", actuators=("A-1",))]) == faults


def test_many_windows_for_three_positions_are_counted():
    """Eleven are named; a record that says no is as good as none."""
    record = SimpleNamespace(actuators={"A-1": SimpleNamespace(calibrated=False)})
    figures = SimpleNamespace(site=SimpleNamespace(record=record), gap_at=lambda opening, percent: percent)
    windows = [Window(opening=f"W-{n}", actuators=(f"A-{n}",)) for n in range(1, 14)]
    raw, near = faults_of_three(figures, windows)
    assert raw.startswith("not calibrated: A-1, A-2,")
    assert raw.endswith("A-11 and 2 more")
    assert near.endswith("W-11 (50 mm) and 2 more")


@pytest.mark.parametrize(
    ("sections", "words"),
    [
        (SMOKE, "it is a smoke vent and follows the fire strategy"),
        ({"openings": {"W-2": {"escape": True}}}, "it is an escape window and follows the fire strategy"),
        ({"actuators": {"A-2-1": {"stroke_mm": None}}}, "the stroke of A-2-1 is not set"),
    ],
)
def test_what_must_not_move_is_known_first(sections, words):
    data = plant([1, 1, 1], **sections)
    data["actuators"] = {
        a: {k: v for k, v in fields.items() if v is not None} for a, fields in data["actuators"].items()
    }
    (first,) = parted(data, on_the_bus(data)).first
    assert first.ids == ("W-2",)
    assert f"among the others: {words}, and" in first.because
    who = parted(known(data, "A-2-1"), on_the_bus(data))
    assert not who.first
    assert [window.opening for window in who.windows] == ["W-1", "W-3"]


def test_what_must_not_move_is_told_by_its_type():
    """A type of its own, and as many of it as the plan has: those serials take no part."""
    data = plant([1, 1, 1], actuators={"A-2-1": {"type": "long"}}, **SMOKE)
    data["types"]["actuators"]["long"] = dict(data["types"]["actuators"]["chain"])
    who = parted(data, on_the_bus(data, typed=True))
    assert not who.first
    assert who.aside == (serials_of(data)["A-2-1"],)
    assert who.aside[0] not in {serial for unit in who.units for serial in unit.serials}
    assert "W-2 takes no part: it is a smoke vent and follows the fire strategy" in who.remarks[0]
    one_more = [*on_the_bus(data, typed=True), OnBus(serial="9", row=9, type="long")]
    assert parted(data, one_more).first
    untyped = [*on_the_bus(data, typed=True), OnBus(serial="9", row=9)]
    assert parted(data, untyped).first


@pytest.mark.parametrize("special", ["W-1", "W-2"])
def test_sets_apart_from_what_must_not_move_change_nothing(special):
    """A pair in its set beside one of another type, either of them a vent; a set of both types makes it unsure."""
    data = plant([2, 1], openings={special: {"smoke_vent": True}})
    data["types"]["actuators"]["long"] = dict(data["types"]["actuators"]["chain"])
    mine = [a for a, fields in data["actuators"].items() if fields["opening"] == special]
    for name in mine:
        data["actuators"][name]["type"] = "long"
    who = parted(data, on_the_bus(data, typed=True))
    assert (set(who.aside), who.first) == ({serials_of(data)[name] for name in mine}, ())
    mixed = [OnBus(serial=f.serial, row=f.row, type=f.type, set="one") for f in on_the_bus(data, typed=True)]
    assert parted(data, mixed).first


def test_a_pair_of_which_one_type_is_not_known():
    """By the plan, by the found list, and by both."""
    for plan_lacks, list_lacks in ((True, False), (False, True), (True, True)):
        data = plant([2])
        found = on_the_bus(data, typed=True)
        if plan_lacks:
            del data["actuators"]["A-1-2"]["type"]
        if list_lacks:
            found[0] = OnBus(serial=found[0].serial, row=2, set=found[0].set)
        who = parted(data, found)
        assert (who.first, len(who.units)) == ((), 1)


def test_a_window_without_a_serial_stays_closed_and_that_is_said():
    data = plant([1, 1, 1])
    found = [f for f in on_the_bus(data) if f.serial != serials_of(data)["A-1-1"]]
    who = parted(data, found)
    assert who.remarks == ("2 unknown serials for 3 windows with one actuator: a window without one stays closed",)
    assert not who.first


@pytest.mark.parametrize(
    ("unit", "window", "fit"),
    [
        ((("chain",), "C-1"), (("chain",), "C-1"), True),
        ((("chain",), "C-2"), (("chain",), "C-1"), False),
        ((("chain",), ""), (("chain",), "C-1"), True),
        ((("chain",), "C-2"), (("chain",), ""), True),
        ((("chain", "chain"), "C-1 C-2"), (("chain", "chain"), ""), False),
        ((("chain", "chain"), "C-1 C-2"), (("chain", "chain"), "C-1 C-2"), False),
        ((("chain",), "C-1"), (("chain", "chain"), "C-1"), False),
        ((("chain",), "C-1"), (("rack",), "C-1"), False),
        ((("chain", "rack"), ""), (("chain", None), ""), True),
        ((("chain", "rack"), ""), ((None, None), ""), True),
        ((("rack", "rack"), ""), (("chain", None), ""), False),
        (((None, "rack"), ""), (("chain", "rack"), ""), True),
        (((None, "rack"), ""), (("chain", "chain"), ""), False),
    ],
)
def test_what_fits_a_window(unit, window, fit):
    """Types one by one, of which some are not known, on one controller, of which none may be known."""
    kinds = (Kind(types, frozenset(controllers.split())) for types, controllers in (unit, window))
    assert fits(*kinds) is fit


class TestMoreThanTheWindows:
    """Two of them may be on one sash, so that nothing moves before it is known whose they are."""

    def test_a_surplus(self):
        data = plant([1, 1, 1])
        (first,) = parted(data, [*on_the_bus(data), OnBus(serial="9001", row=99)]).first
        assert first.because == (
            "4 unknown serials or sets for 3 windows that they could move: 1 too many, and two of them may be on one sash"
        )
        assert first.how.startswith("where a sash has more actuators than the plan says, correct the plan; or read the")
        assert first.ids == ()

    def test_a_single_one_beside_the_set_of_the_only_window(self):
        data = plant([2])
        (first,) = parted(data, [*on_the_bus(data), OnBus(serial="9001", row=99)]).first
        assert "2 unknown serials or sets for 1 window that" in first.because

    def test_a_list_from_before_a_pair_went_dead(self):
        """Four serials, one window isolated: the two of its pair would move alone."""
        data = plant([2, 1, 1])
        stale = on_the_bus(data, sets=False)
        (first,) = parted(data, stale, isolated=["W-1"]).first
        assert "4 unknown serials or sets for 2 windows" in first.because
        assert first.how.startswith("read the list again, if it is from before W-1 went dead; where a sash has more")
        fresh = [f for f in stale if f.serial not in {serials_of(data)[a] for a in ("A-1-1", "A-1-2")}]
        assert not parted(data, fresh, isolated=["W-1"]).first

    @pytest.mark.parametrize("sections", [SMOKE, {"actuators": {"A-2-1": {"stroke_mm": 0}}}], ids=["vent", "stroke"])
    def test_a_list_from_before_what_must_not_move_went_dead(self, sections):
        data = plant([1, 1, 1], **sections)
        data["actuators"]["A-2-1"].pop("stroke_mm")
        assert parted(data, on_the_bus(data), isolated=["W-2"]).first

    def test_a_type_that_no_window_has_stays_still(self):
        data = plant([1, 1, 1], actuators={"A-2-1": {"type": "long"}}, **SMOKE)
        data["types"]["actuators"]["long"] = dict(data["types"]["actuators"]["chain"])
        who = parted(data, on_the_bus(data, typed=True), isolated=["W-2"])
        assert who.aside == (serials_of(data)["A-2-1"],)
        assert not who.first
        row = next(f.row for f in on_the_bus(data) if f.serial == who.aside[0])
        assert f"row {row}: {who.aside[0]} (long) fits no window that takes part; it stays still" in who.remarks

    def test_a_type_that_the_plan_does_not_know_stays_still(self):
        data = plant([1, 1])
        who = parted(data, [*on_the_bus(data, typed=True), OnBus(serial="9", row=9, type="chian")])
        assert who.aside == ("9",)
        (remark,) = who.remarks
        assert remark.startswith(
            "row 9: 9 (chian, which is none of the plan's types; chain is the nearest known) fits no"
        )

    @pytest.mark.parametrize(
        ("one", "other"),
        [({"type": "chain"}, {"type": "long"}), ({"controller": "C-1"}, {"controller": "C-2"})],
        ids=["types", "controllers"],
    )
    def test_a_set_that_no_sash_has(self, one, other):
        data = plant([2, 1], controllers={"C-2": {"type": "hall"}})
        data["types"]["actuators"]["long"] = dict(data["types"]["actuators"]["chain"])
        found = [OnBus(serial="1", row=2, set="p", **one), OnBus(serial="2", row=3, set="p", **other)]
        (first,) = parted(data, [*found, OnBus(serial="3", row=4)]).first
        assert first.because == (
            "the set p (1 and 2) fits no window that lacks its serials: none has 2 actuators of such types on one controller"
        )
        assert first.ids == ("1", "2")
        assert first.how == "correct the column set, type or controller of the found list, or the plan"


def test_remarks_in_words():
    """One plant after the other: a partner off the bus, more than the plan lacks, sets too few, no opening, a stranger."""
    stays = "a window without one stays closed"
    data = known(plant([1, 2]), "A-2-1")
    found = [f for f in on_the_bus(data) if f.serial != serials_of(data)["A-2-2"]]
    who = parted(data, found)
    assert (who.first, who.remarks) == ((), ("W-2: not all of A-2-2 are on the bus; it takes no part",))

    data = known(plant([1, 3]), "A-2-1")
    found = [*on_the_bus(data), OnBus(serial="9", row=9, set="W-2")]
    who = parted(data, found)
    assert who.remarks == ("W-2: 3 unknown serials in one set with a known one of it; the plan lacks 2 there",)
    assert [(p.serial, p.actuator) for p in who.by_set] == [(s, None) for s in (
        serials_of(data)["A-2-2"], serials_of(data)["A-2-3"], "9",
    )]  # fmt: skip

    data = plant([2, 2, 1])
    found = [f for f in on_the_bus(data) if f.set != "W-2"]
    assert parted(data, found).remarks == (f"1 set of 2 serials for 2 windows with 2 actuators: {stays}",)

    data = plant([1, 1])
    data["types"]["actuators"]["long"] = dict(data["types"]["actuators"]["chain"])
    data["actuators"]["A-2-1"]["type"] = "long"
    found = on_the_bus(data, typed=True)
    del data["actuators"]["A-2-1"]["opening"]
    who = parted(data, found)
    assert who.aside == (serials_of(data)["A-2-1"],)
    assert who.remarks == ("A-2-1 takes no part: it is not known which opening they move; read the label there",)

    data = plant([1, 1], controllers={"C-2": {"type": "hall"}})
    data["groups"]["G"]["controller"] = "C-1"
    found = [*on_the_bus(data, controller="C-1"), OnBus(serial="9", row=9, controller="C-2")]
    who = parted(data, found)
    assert who.aside == ("9",)
    assert who.remarks == ("row 9: 9 (its controller) fits no window that takes part; it stays still",)
    data["actuators"] = {a: {"opening": f["opening"], "stroke_mm": 300} for a, f in data["actuators"].items()}
    del data["types"]["actuators"]
    who = parted(data, [*found[:-1], OnBus(serial="9", row=9, controller="C-2", type="long")])
    assert who.remarks[0].startswith("row 9: 9 (long, which is none of the plan's types) fits no window")


def test_units_by_hand():
    """In the order of their serials as people count; what all of a set share is the unit's, else nothing."""
    data = plant([2, 2, 1], controllers={"C-2": {"type": "hall"}})
    rows = [
        ("10", "C-1", "chain", "a"),
        ("9", "C-2", "chain", "a"),
        ("12", "C-1", "chain", "b"),
        ("11", "C-1", None, "b"),
        ("8", None, "chain", None),
    ]
    found = [
        OnBus(serial=s, row=n, controller=c, type=t, set=together) for n, (s, c, t, together) in enumerate(rows, 2)
    ]
    units = _units(site_of(data), found)
    assert [(u.number, u.serials, u.controller, u.type) for u in units] == [
        (1, ("8",), None, "chain"),
        (2, ("9", "10"), None, "chain"),
        (3, ("11", "12"), "C-1", None),
    ]
    del data["controllers"]["C-2"]
    assert [u.controller for u in _units(site_of(data), [OnBus(serial="8", row=2)])] == ["C-1"]


def test_contradictions_are_refused():
    data = plant([1, 2])
    for actuator in ("A-1-1", "A-2-1"):
        data["actuators"][actuator]["serial"] = "7000"
    with pytest.raises(UnreadableSite, match="7000 is the serial of A-1-1 too"):
        parted(data, on_the_bus(data))
    data = known(plant([2, 2]), "A-1-1", "A-2-1")
    found = [OnBus(serial=f.serial, row=f.row, set="one") for f in on_the_bus(data)]
    with pytest.raises(
        UnreadableSheet, match=r"^found.csv: row \d, column set: one has \d+ of W-\d and others of W-\d"
    ):
        parted(data, found)
    with pytest.raises(
        UnreadableSheet,
        match=r"^found.csv: row 2, column controller: C-9 is none of the plan's controllers; C-1 is the nearest known$",
    ):
        parted(data, [OnBus(serial="1", row=2, controller="C-9")])


@given(
    st.lists(st.integers(1, 3), min_size=1, max_size=6),
    st.data(),
)
def test_a_sash_is_never_moved_by_a_part_of_its_actuators(sizes, data):
    """Whatever is known, told, dead or strange: either nothing moves, or every unit is all that moves its sash."""
    plan = plant(sizes)
    truth = serials_of(plan)
    for name in data.draw(st.sets(st.sampled_from(sorted(truth)))):
        plan["actuators"][name]["serial"] = truth[name]
    untold = data.draw(st.sets(st.sampled_from(sorted({f["opening"] for f in plan["actuators"].values()}))))
    dead = data.draw(st.sets(st.sampled_from(sorted(truth)), max_size=2))
    found = [
        OnBus(serial=f.serial, row=f.row, set=None if f.set in untold else f.set)
        for f in on_the_bus(plan)
        if f.serial not in {truth[name] for name in dead}
    ]
    who = parted(plan, found)
    site = site_of(plan)
    home = {serial: site.actuators[name].opening for name, serial in truth.items()}
    if who.first:
        return
    for unit in who.units:
        openings = {home[serial] for serial in unit.serials}
        assert len(openings) == 1
        whole = {truth[name] for name in site.actuators_of[openings.pop()]}
        assert whole == set(unit.serials)
