"""The fault study, small: in every site the planted fault is found where it is, and nothing is found in clean ones.

What a clean site must not have is said by the design (a note is a finding too); which checks looked at it is asserted,
since a check that could not look would cry no wolf either.
"""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import msgspec
import pytest
from clean_sites import any_size, clean_site
from planting import NEAR_MISSES, NOTHING, PLANTERS, each, one
from sites import as_yaml
from study import case_of, clean_answers, judged, lines_of, study

from zonecfg.checks.registry import entries

CLEAN = 90
PER_CHECK = 8


@pytest.mark.parametrize("check_id", entries())
def test_planted_faults_are_found_and_nothing_else(check_id, tmp_path):
    assert check_id in PLANTERS, f"nobody plants the fault of {check_id}: write a planter in tests/faults/"
    tally = study(check_id, PER_CHECK, tmp_path)
    assert not tally.complaints
    assert (tally.planted, tally.found) == (PER_CHECK, PER_CHECK)


def test_the_study_complains(tmp_path):
    """Of a fault that is not found, one found about another thing or elsewhere, and of what nobody planted."""
    case = case_of(PLANTERS["hand-lock-fitted"][0], "complaints", tmp_path)
    (about,), _ = case.expected.found[0]
    assert judged("hand-lock-fitted", case) == []
    for expected in (one("openings/none"), one(about, "rooms"), NOTHING, each([about, "openings/none"])):
        assert judged("hand-lock-fitted", replace(case, expected=expected)), expected
    unmoved = replace(case, found_by=msgspec.structs.replace(case.found_by, findings=()))
    assert judged("hand-lock-fitted", unmoved)
    assert judged("friction-stay-fitted", replace(case, expected=NOTHING))


def test_planters_are_of_checks_that_there_are():
    assert PLANTERS.keys() == entries().keys()
    assert NEAR_MISSES.keys() <= PLANTERS.keys()
    turns = [*PLANTERS.values(), *NEAR_MISSES.values()]
    assert max(map(len, turns)) <= PER_CHECK, "each planter has its turn in every run"


@pytest.fixture(scope="module")
def clean(tmp_path_factory):
    """Check clean sites of 5 to 300 actuators: for each its state, its size and what was found."""
    return list(clean_answers(CLEAN, tmp_path_factory.mktemp("clean")))


def test_nothing_is_found_in_clean_sites(clean):
    """Open findings; a group that the plan accepts to span two rooms is found and accepted, which is its clean state."""
    for state, size, answer in clean:
        assert answer.files[0].state == state
        assert answer.files[0].actuators == size
        assert [f.message for f in answer.findings if f.accepted is None] == []
        assert {f.check for f in answer.findings} <= {"group-spans-rooms"}


def test_the_checks_looked_at_clean_sites(clean):
    """A check that is not checked anywhere gives no false alarm: each looked at two in three of the sites it judges."""
    looked: Counter[str] = Counter()
    judged: Counter[str] = Counter()
    for state, _, answer in clean:
        blind = {unchecked.check for unchecked in answer.not_checked}
        for check_id, entry in entries().items():
            if entry.judges(state):
                judged[check_id] += 1
                looked[check_id] += check_id not in blind
    shares = {check_id: looked[check_id] / judged[check_id] for check_id in judged}
    assert {check_id: share for check_id, share in shares.items() if share < 2 / 3} == {}


def test_clean_sites_vary(clean):
    """What the variations bring is there often enough for the checks that look for it."""
    counts: Counter[str] = Counter()
    for number in range(40):
        chance = random.Random(f"varied {number}")
        text = as_yaml(clean_site(chance, any_size(chance), "as-designed"))
        words = ("smoke_vent: true", "escape: true", "sheltered: true", "junctions:", "strong_wind:", "common", "PS-1b:",
                 "type: tilt-900", "type: pivot-900", "type: side-900", "type: roof-900", "accepted:", "sync: bus", "PS-2:",
                 "ADF-2021-T1.4", "IRC-R303.1", "NCC-2022-D3D29", "ADK-2013", "BS-8213-1", "IRC-R312.2", "use: bedroom",
                 "length_m: 1.2", "wind-cups", "sill_mm: 2700", "line:")  # fmt: skip
        counts.update(word for word in words if word in text)
        counts.update(["sites"])
    assert len(counts) == 26
    assert {word: count for word, count in counts.items() if count < 4} == {}


def test_lines_of_things():
    """The study's own eye for lines: sections, things on a line or several, and what is not there."""
    text = "rooms:\n  a: {}\n\ngroups:\n  a:\n    actuators:\n      - X\n  b:\n    name: B\n"
    assert [*lines_of("rooms/a", text)] == [2]
    assert [*lines_of("groups/a", text)] == [5, 6, 7]
    assert [*lines_of("groups/b", text)] == [8, 9]
    assert 9 in lines_of("groups", text)
    assert 5 not in lines_of("rooms", text)
