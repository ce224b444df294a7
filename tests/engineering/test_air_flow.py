"""Air through openings."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.engineering import air_flow

from .laws import LAW, SINGLE

celsius = st.floats(-30, 50)
HOLE = (1.0 * 1.8, 1.8)


def test_warren_and_parkins():
    """RWTH-EBC AixLib e5df9a8d, stored results: hole 1.0 × 1.8 m, 30 °C in, 0 °C out, no wind."""
    assert air_flow.single_sided_flow(*HOLE, 0, 30, 0) == pytest.approx(0.4961682856, rel=SINGLE)


def test_warren_and_parkins_in_wind():
    """RWTH-EBC AixLib e5df9a8d: at 9.6 m/s wind's part is 0.025·A·U = 0.4320 m³/s."""
    assert air_flow.single_sided_flow(*HOLE, 9.6, 20, 20) == pytest.approx(0.4320, abs=0.00005)
    assert air_flow.single_sided_flow(*HOLE, 9.6, 30, 0) == pytest.approx(0.4961682856, rel=SINGLE)


def test_de_gids_and_phaff():
    """RWTH-EBC AixLib e5df9a8d, stored results: hole 1.0 × 1.8 m, 30 °C in, 0 °C out, no wind."""
    found = air_flow.single_sided_flow_de_gids_phaff(*HOLE, 0, 30, 0)
    assert found == pytest.approx(0.4014847577, rel=SINGLE)


def test_orifice():
    """The form of EN 12101-6 annex A: 0.040 m² at 10 Pa passes 105 l/s."""
    assert 1000 * air_flow.orifice_flow(0.040, 10) == pytest.approx(105, abs=0.5)


@LAW
@given(st.floats(0, 5), st.floats(0, 3), st.floats(0, 30), celsius, celsius)
def test_laws(area, height, wind, inside, outside):
    """The larger of two: never under either; warmer in than out is the same as colder; in step with area."""
    flow = air_flow.single_sided_flow
    both = flow(area, height, wind, inside, outside)
    parts = flow(area, height, wind, inside, inside), flow(area, height, 0, inside, outside)
    assert both == max(parts)
    assert both == flow(area, height, wind, outside, inside)
    assert flow(2 * area, height, wind, inside, outside) == pytest.approx(2 * both)
    phaff = air_flow.single_sided_flow_de_gids_phaff
    assert phaff(area, height, 0, inside, inside) == pytest.approx(area * 0.05)  # turbulence alone: √0.01/2
    wind_part, warm_part = phaff(area, height, wind, 0, 0), phaff(area, height, 0, inside, outside)
    sum_of_squares = wind_part**2 + warm_part**2 - (area * 0.05) ** 2
    assert phaff(area, height, wind, inside, outside) ** 2 == pytest.approx(sum_of_squares, abs=1e-12)


@LAW
@given(st.floats(0, 5), st.floats(0, 300))
def test_orifice_is_a_square_law(area, pressure):
    twice = air_flow.orifice_flow(area, 4 * pressure)
    assert twice == pytest.approx(2 * air_flow.orifice_flow(area, pressure))


def test_refused():
    for wrong in ((-1, 1, 0, 20, 0), (1, 1, -1, 20, 0), (1, 1, 0, 20, -280)):
        with pytest.raises(ValueError, match="0 and more"):
            air_flow.single_sided_flow(*wrong)
        with pytest.raises(ValueError, match="0 and more"):
            air_flow.single_sided_flow_de_gids_phaff(*wrong)
    with pytest.raises(ValueError, match="0 and more"):
        air_flow.orifice_flow(0.1, -1)
