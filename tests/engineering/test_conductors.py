"""Conductor resistances."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.engineering import conductors

from .laws import LAW

IEC_60228 = [
    (0.5, 36.0, 39.0),
    (0.75, 24.5, 26.0),
    (1.0, 18.1, 19.5),
    (1.5, 12.1, 13.3),
    (2.5, 7.41, 7.98),
    (4, 4.61, 4.95),
    (6, 3.08, 3.30),
    (10, 1.83, 1.91),
]


@pytest.mark.parametrize(("size", "solid", "flexible"), IEC_60228)
def test_table(size, solid, flexible):
    """IEC 60228, maximum resistance at 20 °C, plain copper; classes 1 and 2, and 5."""
    assert conductors.ohm_per_km(size, 1) == solid
    assert conductors.ohm_per_km(size, 2) == solid
    assert conductors.ohm_per_km(size, 5) == flexible


def test_next_larger_size():
    """IEC 60228, nominal sizes."""
    sizes = [row[0] for row in IEC_60228]
    assert list(conductors.STANDARD_SIZES_MM2) == sizes
    assert [conductors.next_larger_size(size) for size in sizes] == [*sizes[1:], None]
    assert conductors.next_larger_size(0.22) == 0.5
    assert conductors.next_larger_size(1.2) == 1.5


def test_temperature():
    """Published: 0.1 ohm at 20 °C is 0.11179 at 50 °C with 0.00393."""
    assert 0.1 * conductors.temperature_factor(50) == pytest.approx(0.11179, abs=0.000005)


@pytest.mark.parametrize(("celsius", "factor"), [(30, 0.962), (50, 0.893), (75, 0.820)])
def test_temperature_of_the_standards_own_table(celsius, factor):
    """IEC 60228, factors that correct a measured resistance to 20 °C, made with 0.004."""
    assert 1 / conductors.temperature_factor(celsius, 0.004) == pytest.approx(factor, abs=0.0005)


@pytest.mark.parametrize(
    ("gauge", "ohm_per_km"), [(12, 5.21), (14, 8.28), (16, 13.2), (18, 20.9), (22, 52.9), (24, 84.2)]
)
def test_american_gauges(gauge, ohm_per_km):
    """Georgia State University HyperPhysics, solid copper at 20 °C.

    Its kilometre is its column of 1000 ft times 3.28, not 3.28084, and is compared as such.
    """
    theirs = conductors.awg_ohm_per_km(gauge) * 0.3048 * 3.28
    assert theirs == pytest.approx(ohm_per_km, abs=0.5 * 10 ** (math.floor(math.log10(ohm_per_km)) - 2))


def test_gauge_definition():
    """ASTM B258: 36 is 0.005 in, 4/0 is 0.46 in, and 39 equal steps of ratio lie between."""
    assert conductors.awg_diameter(36) == pytest.approx(0.005 * 25.4)
    assert conductors.awg_diameter(-3) == pytest.approx(0.46 * 25.4)
    assert conductors.awg_area(24) == pytest.approx(math.pi * (conductors.awg_diameter(24) / 2) ** 2)


def test_single_feed():
    """Electrician training text: 24 V, 100 ft one way, 16 AWG at 4.99 ohm/kft (75 °C), 4 A: 4.0 V lost."""
    loop = conductors.loop_resistance(100 * 0.3048, 4.99 / 0.3048)
    assert 4 * loop == pytest.approx(4.0, abs=0.05)


@LAW
@given(st.floats(0, 1000), st.floats(0, 100), st.floats(-30, 90))
def test_a_loop_is_two_conductors_in_series(length, per_km, celsius):
    one = per_km * length / 1000 * (1 + 0.00393 * (celsius - 20))
    assert conductors.loop_resistance(length, per_km, celsius) == pytest.approx(2 * one)
    assert conductors.loop_resistance(length, per_km) == pytest.approx(2 * per_km * length / 1000)


def test_refused():
    for size, kind in ((0.8, 5), (2.5, 3)):
        with pytest.raises(ValueError, match="IEC 60228"):
            conductors.ohm_per_km(size, kind)
    with pytest.raises(ValueError, match="-1"):
        conductors.loop_resistance(-1, 7.98)
