"""The order of ways against comparing every two of them, one measure after the other."""

import re

from hypothesis import given
from hypothesis import strategies as st

from zonecfg.results.change import CONSEQUENCES, Change, FindingsMoved
from zonecfg.results.finding import SEVERITIES, Finding
from zonecfg.results.way import Exposure, Step, Way
from zonecfg.rollback.ranking import ranked


def finding(severity):
    return Finding(
        check="any", severity=severity, about="A-1", file=None, at="", line=None, column=None, end_column=None, message=""
    )  # fmt: skip


def change(consequence):
    return Change(kind="changed", section="actuators", id="A-1", consequence=consequence, text="")


@st.composite
def a_way(draw, number):
    after = draw(st.integers(0, 1))
    blocked = draw(st.booleans()) and draw(st.booleans())
    return Way(
        way=draw(st.sampled_from(["keep", "restore", "by-hand"])),
        target=f"copy {'abcdef'[number]}",
        first=("This way cannot be gone: a group is over its limit.",) if blocked else ("Something to know.",),
        predicted={},
        lost=tuple(change("weather") for _ in range(draw(st.integers(0, 2)))),
        stays=tuple(map(change, draw(st.lists(st.sampled_from(CONSEQUENCES), max_size=3)))),
        findings=FindingsMoved(introduced=tuple(map(finding, draw(st.lists(st.sampled_from(SEVERITIES), max_size=3))))),
        steps=tuple(Step(do="move", text="", uncovered=0) for _ in range(draw(st.integers(1, 2)))),
        exposure=Exposure(now=0, at_worst=after + draw(st.integers(0, 2)), after=after, sum_over_steps=0),
        minutes=0,
    )


def errors(way):
    """A way that cannot be gone counts as one with a new error."""
    return len([f for f in way.findings.introduced if f.severity == "error"]) + way.first[0].startswith(
        "This way cannot"
    )


def better(one, other):
    """Whether one way beats another: the first of four questions that tells them apart."""
    if errors(one) != errors(other):
        return errors(one) < errors(other)
    if one.exposure.after != other.exposure.after:
        return one.exposure.after < other.exposure.after
    if len(one.lost) != len(other.lost):
        return len(one.lost) < len(other.lost)
    return len(one.steps) < len(other.steps)


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
def test_the_reason_gives_the_figures(way):
    """Errors, uncovered at the end, uncovered on the way where that is more, losses, steps, and what stays."""
    (rank,) = ranked([way])
    after, worst = way.exposure.after, way.exposure.at_worst
    wanted = [errors(way) or None, after, worst if worst > after else None, len(way.lost) or None, len(way.steps)]
    wanted.append(len(way.stays) or None)
    assert [int(number) for number in re.findall(r"\d+", rank.reason)] == [n for n in wanted if n is not None]
    stays = rank.reason.split("; ")[4:]
    assert len(stays) == bool(way.stays)
    named = {word for word in CONSEQUENCES for part in stays if re.search(rf"\b{word}\b", part)}
    assert named == {c.consequence for c in way.stays}


def test_the_reason_in_words():
    """One and none are told as one and none."""
    step, found = Step(do="move", text="", uncovered=0), finding("error")
    exposure = Exposure(now=0, at_worst=0, after=0, sum_over_steps=0)
    best = Way(way="restore", target="copy a", predicted={}, steps=(step,), exposure=exposure, minutes=0)
    worst = Way(
        way="by-hand",
        target="copy b",
        predicted={},
        findings=FindingsMoved(introduced=(found,)),
        lost=(change("weather"),),
        stays=(change("electrical"), change("safety")),
        steps=(step, step),
        exposure=Exposure(now=0, at_worst=3, after=1, sum_over_steps=0),
        minutes=0,
    )
    assert [rank.reason for rank in ranked([worst, best])] == [
        "no new errors; 0 actuators without rain closing when done; nothing lost; 1 step",
        (
            "1 new error; 1 actuator without rain closing when done, 3 at worst; 1 thing lost; 2 steps; 2 differences that no "
            "setting brings back (safety and electrical)"
        ),
    ]
