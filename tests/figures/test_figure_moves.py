"""Figures that differ between two states by more than rounding."""

import copy

import pytest
from hypothesis import given
from plans import line, plan, site_of
from strategies import site_pairs

from zonecfg.figures import Figures
from zonecfg.figures.moves import figure_moves
from zonecfg.model.build import build


def figures(data):
    return Figures(site_of(data))


def moved(before, after, renames=None):
    return {
        (m.section, m.id, m.figure): (m.before, m.after)
        for m in figure_moves(figures(before), figures(after), renames or {})
    }


def powered():
    return plan(supplies={"PS-1": {"type": "psu"}}, cables=line("PS-1", "A-1", carries=["power"]))


def test_a_shorter_stroke_moves_what_hangs_on_it():
    """250 to 200 mm on a sash of 1000 mm: the gap is the stroke; areas and force follow."""
    before, after = powered(), powered()
    after["actuators"]["A-1"]["stroke_mm"] = 200
    found = moved(before, after)
    assert found["openings", "W-1", "gap_mm"] == (250, 200)
    assert found["openings", "W-1", "stroke_mm"] == (250, 200)
    assert {"free_area_m2", "equivalent_area_m2", "angle_deg"} < {figure for _, _, figure in found}
    assert not any(section == "supplies" for section, _, _ in found)


def test_none_against_a_number():
    before, after = powered(), powered()
    del before["actuators"]["A-1"]["stroke_mm"]
    assert moved(before, after)["openings", "W-1", "gap_mm"] == (None, 250)
    assert moved(after, before)["openings", "W-1", "gap_mm"] == (250, None)


@pytest.mark.parametrize(("factor", "told"), [(1 + 9e-7, False), (1 + 2e-6, True)])
def test_rounding(factor, told):
    before, after = powered(), powered()
    after["actuators"]["A-1"]["stroke_mm"] *= factor
    assert bool(moved(before, after)) == told


def test_a_thing_on_one_side_only_is_no_move():
    before, after = powered(), powered()
    after["openings"]["W-2"] = {"type": "sash", "room": "room"}
    assert not moved(before, after)


def test_a_renamed_thing_keeps_its_figures():
    before, after = powered(), powered()
    after["openings"] = {"W-9": after["openings"]["W-1"]}
    after["actuators"]["A-1"]["opening"] = "W-9"
    assert not moved(before, after, {"openings": {"W-1": "W-9"}})
    after["actuators"]["A-1"]["stroke_mm"] = 200
    assert moved(before, after, {"openings": {"W-1": "W-9"}})["openings", "W-9", "gap_mm"] == (250, 200)


def test_words_move_too():
    """The event of a supply's peak is a figure in words."""
    before = powered()
    before |= {"controllers": {"C-1": {"type": "hall", "moves_at_once": 1}}}
    before["openings"]["W-2"] = {"type": "sash", "room": "room", "smoke_vent": True}
    before["openings"]["W-1"]["smoke_vent"] = True
    before["actuators"]["A-1"]["controller"] = "C-1"
    before["actuators"]["A-2"] = {"type": "chain", "opening": "W-2", "peak_a": 5, "controller": "C-1", "stroke_mm": 250}
    before["groups"]["H"] = {"actuators": ["A-2"]}
    before["cables"]["K-9"] = {"from": "A-1", "to": "A-2", "length_m": 5, "type": "pair", "carries": ["power"]}
    after = copy.deepcopy(before)
    after["controllers"]["C-1"]["fire_moves_at_once"] = 2
    assert moved(before, after)["supplies", "PS-1", "peak_event"] == ("all close", "the fire command comes")


@given(site_pairs())
def test_the_sides_swap(pair):
    """Whatever moved one way moves the other way back; a state does not move against itself."""
    one, other = (Figures(build(data, data["types"])) for data in pair)
    there = {(m.section, m.id, m.figure, m.before, m.after) for m in figure_moves(one, other, {})}
    back = {(m.section, m.id, m.figure, m.after, m.before) for m in figure_moves(other, one, {})}
    assert there == back
    assert not figure_moves(one, one, {})
