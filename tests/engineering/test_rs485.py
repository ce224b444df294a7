"""RS-485 limits and resistances."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.engineering import rs485

from .laws import LAW

loops = st.floats(0, 200)


def test_unit_loads():
    """ANSI/TIA/EIA-485-A: 32 unit loads, one about 12 kΩ, an eighth 96 kΩ."""
    assert rs485.UNIT_LOADS == 32
    assert rs485.receiver_resistance(1) == 12_000
    assert rs485.receiver_resistance(1 / 8) == 96_000


def test_length():
    """TIA/EIA-422-B annex A: 1200 m below 90 kbit/s; length × rate ≤ 10⁸, a rule of thumb."""
    assert rs485.longest_line(19_200) == 1200
    assert rs485.longest_line(1e6) == 100
    assert rs485.longest_line(1e8 / 1200) == pytest.approx(1200)


def test_stub_by_rise_time():
    """TI SLLSEV1's form, 0.1·t_r·v·c, worked in whole numbers: 10 ns at c is 299.792458 mm."""
    assert rs485.longest_stub(10, 1) == pytest.approx(0.299792458)
    assert rs485.longest_stub(10, 0.78) == pytest.approx(0.78 * 0.299792458)


def test_stub_by_critical_length():
    """CANopen/ECSS: 50 ns and 5 ns/m give a third of the critical length of 1.67 m."""
    assert rs485.critical_length(50, 5) / 3 == pytest.approx(1.67, abs=0.005)


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


def test_published_bias():
    """Renesas TB509: 3.3 V, 0.3 V wanted: 333.33 Ω, terminator of the bias end 146.34 Ω."""
    bias, terminator = rs485.bias_resistors(3.3, 0.3)
    assert bias == pytest.approx(333.33, abs=0.005)
    assert terminator == pytest.approx(146.34, abs=0.005)


@LAW
@given(st.floats(3, 5.5), st.floats(0.2, 0.6), st.floats(0, 32), st.floats(90, 130))
def test_biased_end_matches_the_line_and_falls_short_of_the_voltage(supply, wanted, loads, line):
    """The biased end looks like the line; Kirchhoff's laws give V_S·V/(V_S + V) where V was wanted."""
    bias, terminator = rs485.bias_resistors(supply, wanted, loads, line)
    assert 1 / (1 / terminator + 1 / (2 * bias)) == pytest.approx(line)
    idle = rs485.idle_voltage(supply, bias, terminator, line, loads)
    assert idle == pytest.approx(supply * wanted / (supply + wanted))


@LAW
@given(st.floats(3, 5.5), st.floats(200, 2000), st.floats(100, 200), st.floats(100, 200), st.floats(0, 32))
def test_idle_voltage_by_nodal_analysis(supply, bias, near, far, loads):
    """Both wires as nodes, each receiver's input from each wire to ground; numpy solves."""
    between, ground = 1 / near + 1 / far, loads / 12_000
    matrix = np.array([[1 / bias + between + ground, -between], [-between, 1 / bias + between + ground]])
    a, b = np.linalg.solve(matrix, [supply / bias, 0.0])
    assert rs485.idle_voltage(supply, bias, near, far, loads) == pytest.approx(a - b)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: rs485.receiver_resistance(0),
        lambda: rs485.longest_line(0),
        lambda: rs485.longest_stub(10, 1.1),
        lambda: rs485.critical_length(50, 0),
        lambda: rs485.measured_resistance(-1),
        lambda: rs485.bias_resistors(0, 0.3),
        lambda: rs485.bias_resistors(3.3, 5),
        lambda: rs485.idle_voltage(3.3, 0, 120, 120),
    ],
)
def test_refused(wrong):
    with pytest.raises(ValueError, match=r"above 0|no such|cannot be matched"):
        wrong()
