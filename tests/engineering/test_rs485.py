"""RS-485 limits and resistances."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.engineering import rs485

from .laws import LAW

loops = st.floats(0, 200)


def test_length():
    """TIA/EIA-422-B annex A: 1200 m below 90 kbit/s; length × rate ≤ 10⁸, a rule of thumb."""
    assert rs485.longest_line(19_200) == 1200
    assert rs485.longest_line(1e6) == 100
    assert rs485.longest_line(1e8 / 1200) == pytest.approx(1200)


@pytest.mark.parametrize(("near", "far", "ohm"), [(1, 1, 60), (1, 0, 120), (0, 1, 120), (2, 1, 40), (1, 2, 40)])
def test_terminators_of_a_short_line(near, far, ohm):
    """ANSI/TIA/EIA-485-A: 120 Ω at each of two ends. About 120 is one missing, 40 one too many."""
    assert rs485.measured_resistance(0, near, far) == pytest.approx(ohm)


@LAW
@given(loops, st.integers(0, 3), st.integers(0, 3), st.floats(50, 200))
def test_terminators_by_nodal_analysis(loop, near, far, ohm):
    """A meter's ampere into the near end; numpy solves for the voltage at both."""
    if near == far == 0:
        assert rs485.measured_resistance(loop, 0, 0, ohm) == math.inf
        return
    line = 1 / (loop + 1e-6)
    matrix = np.array([[near / ohm + line, -line], [-line, far / ohm + line]])
    volts = np.linalg.solve(matrix, [1.0, 0.0])
    assert rs485.measured_resistance(loop, near, far, ohm) == pytest.approx(volts[0], rel=1e-5)


@LAW
@given(loops)
def test_terminators_with_a_loop(loop):
    """120 ∥ (120 + loop); a near one missing leaves 120 + loop."""
    assert rs485.measured_resistance(loop) == pytest.approx(120 * (120 + loop) / (240 + loop))
    assert rs485.measured_resistance(loop, near=0) == pytest.approx(120 + loop)
    assert rs485.measured_resistance(loop, far=0) == pytest.approx(120)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: rs485.longest_line(0),
        lambda: rs485.measured_resistance(-1),
    ],
)
def test_refused(wrong):
    with pytest.raises(ValueError, match=r"above 0|no such|cannot be matched"):
        wrong()
