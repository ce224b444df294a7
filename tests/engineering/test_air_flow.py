"""Air through openings."""

import pytest
from hypothesis import strategies as st

from zonecfg.engineering import air_flow

from .laws import SINGLE

celsius = st.floats(-30, 50)
HOLE = (1.0 * 1.8, 1.8)


def test_warren_and_parkins():
    """RWTH-EBC AixLib e5df9a8d, stored results: hole 1.0 × 1.8 m, 30 °C in, 0 °C out, no wind."""
    assert air_flow.single_sided_flow(*HOLE, 0, 30, 0) == pytest.approx(0.4961682856, rel=SINGLE)


def test_warren_and_parkins_in_wind():
    """RWTH-EBC AixLib e5df9a8d: at 9.6 m/s wind's part is 0.025·A·U = 0.4320 m³/s."""
    assert air_flow.single_sided_flow(*HOLE, 9.6, 20, 20) == pytest.approx(0.4320, abs=0.00005)
    assert air_flow.single_sided_flow(*HOLE, 9.6, 30, 0) == pytest.approx(0.4961682856, rel=SINGLE)
