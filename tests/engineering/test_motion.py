"""Travel times and queues."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.engineering import motion

from .laws import LAW

durations = st.lists(st.floats(0, 200), max_size=40)


def test_travel():
    """Definition of speed: 300 mm at 6 mm/s take 50 s, either way."""
    assert motion.travel_time(300, 6) == 50
    assert motion.travel_time(-300, 6) == 50


def test_queue_by_hand():
    """Two places: 50 and 30 start; 20 follows the 30 and ends with the 50; 10 and 10 follow both."""
    found = motion.queue([50, 30, 20, 10, 10], 2)
    assert found == ([0, 0, 30, 50, 50], [50, 30, 50, 60, 60], 60)


@LAW
@given(durations, st.integers(1, 8))
def test_queue_second_by_second(lengths, places):
    """The same rule played without a queue: each takes the place that has been free longest."""
    free, expected = [0.0] * places, []
    for length in lengths:
        place = min(range(places), key=free.__getitem__)
        expected.append((free[place], free[place] + length))
        free[place] += length
    found = motion.queue(lengths, places)
    assert list(zip(found.starts_s, found.finishes_s, strict=True)) == expected
    assert found.last_s == max(free)


@LAW
@given(durations, st.integers(1, 8))
def test_laws_of_a_queue(lengths, places):
    found = motion.queue(lengths, places)
    assert found.starts_s == sorted(found.starts_s)  # nobody overtakes
    spans = list(zip(found.starts_s, found.finishes_s, strict=True))
    for start in found.starts_s:
        assert sum(a <= start < b for a, b in spans) <= places
        assert start == 0 or start in found.finishes_s  # a start waits for nothing but a place
    assert motion.queue(lengths, 1).last_s == pytest.approx(sum(lengths))
    assert motion.queue(lengths).last_s == max(lengths, default=0)
    assert found.last_s <= sum(lengths) / places + max(lengths, default=0) + 1e-9  # Graham's bound


def test_refused():
    with pytest.raises(ValueError, match="0 mm/s"):
        motion.travel_time(300, 0)
    with pytest.raises(ValueError, match="at least 1"):
        motion.queue([1, 2], 0)
    with pytest.raises(ValueError, match="0 s or more"):
        motion.queue([1, -2], 1)
