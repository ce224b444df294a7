"""The laws of a three-way merge, over drawn plans and edits."""

import itertools

import pytest
from hypothesis import given, settings
from plans import plan
from three_sides import said, three

from zonecfg.compare.merge import merged_data


def merged_facts(base, ours, theirs):
    found = merged_data(base, ours, theirs)
    return said(found.ours), said(found.theirs), found.conflicts


@settings(max_examples=100)
@given(three())
def test_one_side_that_did_nothing_yields_to_the_other(sides):
    x, y, _ = sides
    for base, ours, theirs, result in ((x, x, y, y), (x, y, x, y), (x, y, y, y), ({}, y, y, y)):
        first, second, conflicts = merged_facts(base, ours, theirs)
        assert conflicts == ()
        assert first == second == said(result)


@settings(max_examples=200)
@given(three())
def test_the_sides_may_be_swapped(sides):
    base, one, other = sides
    first, second, conflicts = merged_facts(base, one, other)
    swapped_first, swapped_second, swapped = merged_facts(base, other, one)
    assert (first, second) == (swapped_second, swapped_first)
    assert {c.path for c in conflicts} == {c.path for c in swapped}


@settings(max_examples=200)
@given(three())
def test_no_edit_is_dropped_and_none_invented(sides):
    """What a side changed is so with that side chosen; without a conflict both readings are one."""
    base, ours, theirs = sides
    was, here, there = said(base), said(ours), said(theirs)
    first, second, conflicts = merged_facts(base, ours, theirs)
    for fact in {**was, **here, **there, **first, **second}:
        b, o, t = (side.get(fact) for side in (was, here, there))
        x, y = first.get(fact), second.get(fact)
        assert x in (o, t), fact
        assert y in (o, t), fact
        if o != b:
            assert x == o, fact
        if t != b:
            assert y == t, fact
        if x != y:
            assert (x, y) == (o, t), fact
    assert (first == second) == (conflicts == ())


@settings(max_examples=100)
@given(three())
def test_a_conflict_is_only_where_both_sides_changed(sides):
    base, ours, theirs = sides
    found = merged_data(base, ours, theirs)
    if found.conflicts:
        assert said(ours) != said(base)
        assert said(theirs) != said(base)


BASE = plan(
    openings={f"W-{n}": {"type": "sash", "room": "room"} for n in (1, 2)},
    actuators={f"A-{n}": {"type": "chain", "opening": f"W-{n}", "stroke_mm": 250} for n in (1, 2)},
    groups={"G": {"actuators": ["A-1", "A-2"]}, "H": {"actuators": []}, "I": {"actuators": []}},
    sensors={"R-1": {"type": "plate"}},
    links={"R-1": ["G"]},
    wet_weather={"G": {"open_percent": 0}},
    accepted=[{"check": "single-sensor", "at": "/sensors/R-1", "because": "Small."}],
)


def changed(*edits):
    """The base with values set by path; None takes away."""
    import copy

    data = copy.deepcopy(BASE)
    for path, value in edits:
        *above, last = path.split("/")
        inner = data
        for step in above:
            inner = inner[int(step)] if isinstance(inner, list) else inner.setdefault(step, {})
        if value is None:
            del inner[last]
        else:
            inner[last] = value
    return data


IN_G, IN_H, IN_I = (
    (("groups/G/actuators", ["A-2"]), (f"groups/{g}/actuators", ["A-1"])) if g != "G" else () for g in "GHI"
)


@pytest.mark.parametrize(
    ("ours", "theirs", "paths"),
    [
        ([("actuators/A-1/stroke_mm", 1)], [("actuators/A-1/stroke_mm", 2)], {("actuators", "A-1", "stroke_mm")}),
        (IN_H, IN_I, {("actuators", "A-1", "group")}),
        (IN_H, [], set()),
        (IN_H, IN_H, set()),
        ([("groups/G/actuators", ["A-1", "A-2", "A-3"])], [("groups/G/actuators", ["A-4", "A-2", "A-1"])], set()),
        ([("links/R-1", ["G", "H"])], [("links/R-1", ["I", "G"])], set()),
        ([("actuators/A-1/stroke_mm", 1)], [("actuators/A-1/serial", "7")], set()),
        ([("wet_weather/G", None)], [("wet_weather/G/open_percent", 10)], {("wet_weather", "G")}),
        ([("accepted/0/by", "designer")], [("accepted/0/until", "2030-01-01")], set()),
        ([("accepted", [])], [("accepted/0/because", "Other.")],
         {("accepted", "single-sensor at /sensors/R-1")}),
        ([("x-note", {"a": 1})], [("x-note", {"b": [2]})], set()),
        ([("x-note", [1])], [("x-note", [2])], {("x-note",)}),
        ([("site/name", "A")], [("site/revision", "B")], set()),
        # the tests of two actuators are never mixed
        ([("record", {"actuators": {"A-1": {"serial": "1", "walk_test": "pass"}}})],
         [("record", {"actuators": {"A-1": {"serial": "2", "calibrated": True}}})], {("record", "actuators", "A-1")}),
        ([("record", {"actuators": {"A-1": {"serial": "1", "walk_test": "pass"}}})],
         [("record", {"actuators": {"A-1": {"serial": "1", "calibrated": True}}})], set()),
        # what goes together stays together: the actuator in dispute, its window, its place in the group
        ([("actuators/A-1/stroke_mm", 1)],
         [("actuators/A-1", None), ("openings/W-1", None), ("groups/G/actuators", ["A-2"])],
         {("actuators", "A-1"), ("openings", "W-1"), ("actuators", "A-1", "group")}),
    ],
)  # fmt: skip
def test_cases_by_hand(ours, theirs, paths):
    found = merged_data(BASE, changed(*ours), changed(*theirs))
    assert {c.path for c in found.conflicts} == paths
    if not paths:
        for edit, (path, value) in itertools.chain(zip(ours, ours, strict=True), zip(theirs, theirs, strict=True)):
            assert edit
            held = found.ours
            for step in path.split("/"):
                held = held[int(step)] if isinstance(held, list) else held[step]
            if isinstance(value, list) and value and isinstance(value[0], str):
                assert set(value) <= set(held) | {"A-1"}
            elif not isinstance(value, dict):
                assert held == value


def test_ours_keeps_its_order_and_theirs_comes_beside_its_neighbour():
    ours = changed(("groups/G/actuators", ["A-2", "A-1"]))
    theirs = changed(("groups/G/actuators", ["A-1", "A-9", "A-2"]), ("rooms/attic", {"use": "other"}))
    found = merged_data(BASE, ours, theirs)
    assert found.ours["groups"]["G"]["actuators"] == ["A-2", "A-1", "A-9"]
    assert list(found.ours["rooms"]) == ["room", "attic"]
