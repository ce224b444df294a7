"""Wind pressure and Beaufort's scale."""

import pytest

from zonecfg.engineering import wind

LOWER_BOUNDS = [0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7]


def test_dynamic_pressure():
    """Published: ½·1.225·v² at 10 m/s is 61.25 Pa; on 2 m² 122.5 N."""
    assert wind.dynamic_pressure(10) == pytest.approx(61.25, abs=0.005)
    assert 2 * wind.dynamic_pressure(10) == pytest.approx(122.5, abs=0.05)
    assert wind.dynamic_pressure(0) == 0
