"""The order of ways against comparing every two of them, one measure after the other."""

import re

from hypothesis import given
from hypothesis import strategies as st

from zonecfg.results.change import CONSEQUENCES, Change
from zonecfg.results.finding import SEVERITIES
from zonecfg.results.way import Exposure, Standing, Step, Way
from zonecfg.rollback.ranking import ranked


def standing(severity, consequence):
    return Standing(check="any", about="openings/W-1", severity=severity, consequence=consequence, message="")


def change(consequence):
    return Change(kind="changed", section="actuators", id="A-1", consequence=consequence, text="")


@st.composite
def a_way(draw, number):
    after = draw(st.integers(0, 1))
    blocked = draw(st.booleans()) and draw(st.booleans())
    left = st.tuples(st.sampled_from(SEVERITIES), st.sampled_from(("safety", "weather")))
    return Way(
        way=draw(st.sampled_from(["keep", "restore", "by-hand"])),
        target=f"copy {'abcdef'[number]}",
        first=("This way cannot be gone: a group is over its limit.",) if blocked else ("Something to know.",),
        predicted={},
        lost=tuple(change("weather") for _ in range(draw(st.integers(0, 2)))),
        stays=tuple(map(change, draw(st.lists(st.sampled_from(CONSEQUENCES), max_size=3)))),
        standing=tuple(standing(*one) for one in draw(st.lists(left, max_size=3))),
        uncovered_openings=("W-1", "W-2")[: draw(st.integers(0, 2))],
        steps=tuple(Step(do="move", text="", uncovered=0) for _ in range(draw(st.integers(1, 2)))),
        exposure=Exposure(
            now=0,
            at_worst=after + draw(st.integers(0, 2)),
            after=after,
            sum_over_steps=0,
            actuator_minutes=draw(st.sampled_from((0.0, 2.0))),
        ),
        minutes=0,
    )


def errors(way, *, safety):
    return sum(s.severity == "error" and (s.consequence == "safety") == safety for s in way.standing)


QUESTIONS = (
    lambda way: way.first[0].startswith("This way cannot"),
    lambda way: errors(way, safety=True),
    lambda way: errors(way, safety=False),
    lambda way: len(way.uncovered_openings),
    lambda way: len(way.lost),
    lambda way: way.exposure.at_worst,
    lambda way: way.exposure.actuator_minutes,
    lambda way: len(way.steps),
)
"""What stands when it is done, what is lost, the way there, the work: the first that tells two ways apart decides."""


def better(one, other):
    """Whether one way beats another."""
    for question in QUESTIONS:
        if question(one) != question(other):
            return question(one) < question(other)
    return False


@given(st.integers(1, 6).flatmap(lambda count: st.tuples(*map(a_way, range(count)))))
def test_places_are_those_of_every_comparison_of_two(ways):
    ranks = ranked(ways)
    assert [rank.place for rank in ranks] == sorted(rank.place for rank in ranks)
    assert {rank.target for rank in ranks} == {way.target for way in ways}
    by_target = {way.target: way for way in ways}
    for rank in ranks:
        way = by_target[rank.target]
        others = [other for other in ways if other is not way]
        assert rank.way == way.way
        assert rank.place == 1 + sum(better(other, way) for other in others)
        equal = [other for other in others if not better(other, way) and not better(way, other)]
        assert sorted(rank.equal_to) == sorted(other.name for other in equal)


@given(a_way(0))
def test_the_reason_names_what_speaks_against_a_way(way):
    (rank,) = ranked([way])
    assert ("standing safety error" in rank.reason) == bool(errors(way, safety=True))
    assert ("other standing error" in rank.reason) == bool(errors(way, safety=False))
    assert ("any: W-1" in rank.reason) == any(s.severity == "error" for s in way.standing)
    assert all(opening in rank.reason for opening in way.uncovered_openings)
    assert ("cannot be gone" in rank.reason) == way.first[0].startswith("This way cannot")
    named = rank.reason.rpartition("no setting brings back")[2] if way.stays else ""
    assert {word for word in CONSEQUENCES if re.search(rf"\b{word}\b", named)} == {c.consequence for c in way.stays}


def test_the_reason_in_words():
    """One and none are told as one and none."""
    step = Step(do="move", text="", uncovered=0)
    exposure = Exposure(now=0, at_worst=0, after=0, sum_over_steps=0)
    best = Way(way="restore", target="copy a", predicted={}, steps=(step,), exposure=exposure, minutes=0)
    worst = Way(
        way="by-hand",
        target="copy b",
        predicted={},
        standing=(standing("error", "safety"), standing("error", "weather"), standing("note", "safety")),
        uncovered_openings=("W-1",),
        lost=(change("weather"),),
        stays=(change("electrical"), change("safety")),
        steps=(step, step),
        exposure=Exposure(now=0, at_worst=3, after=1, sum_over_steps=0),
        minutes=0,
    )
    assert [rank.reason for rank in ranked([worst, best])] == [
        "no standing errors; every window has rain closing when done; nothing lost; 1 step",
        (
            "1 standing safety error (any: W-1); 1 other standing error (any: W-1); 1 window without rain closing when done "
            "(W-1); 1 thing lost; 3 actuators without rain closing at worst on the way; 2 steps; 2 differences that no "
            "setting brings back (safety and electrical)"
        ),
    ]


@given(a_way(0), a_way(1))
def test_a_standing_safety_error_is_outranked_by_no_convenience(one, other):
    if errors(one, safety=True) < errors(other, safety=True) and QUESTIONS[0](one) == QUESTIONS[0](other):
        assert ranked([other, one])[0].target == one.target
