"""Every range that a docstring states, at its bound: what stands there is computed, what lies beyond is refused."""

import math
from functools import partial

import pytest

from zonecfg.engineering import air_flow, force, motion, restriction, rs485, sash

FORCES = partial(force.worst_forces, mass_kg=20)
SMALL = 1e-6

# function, arguments within all ranges, and by place: the bound, whether the bound itself is within, where beyond is
RANGES = [
    (sash.hinge_sides, ("top-hung", 900.0, 1000.0), {1: (0, False, -1), 2: (0, False, -1)}),
    (sash.levers, ("top-hung", 900.0, 1000.0, 400.0), {3: (0, False, -1)}),
    (sash.opening_angle, (300.0, 900.0), {0: (0, True, -1), 1: (0, False, -1)}),
    (sash.tilted_area, (0.5, 30.0), {1: (0, True, -1)}),
    (sash.tilted_area, (0.5, 30.0), {1: (90, True, 1)}),
    (rs485.longest_line, (9600.0,), {0: (0, False, -1)}),
    (rs485.longest_stub, (10.0, 0.66), {0: (0, True, -1), 1: (0, False, -1)}),
    (rs485.longest_stub, (10.0, 0.66), {1: (1, True, 1)}),
    (rs485.critical_length, (50.0, 5.0), {0: (0, True, -1), 1: (0, False, -1)}),
    (rs485.measured_resistance, (4.0, 1, 1, 120.0), {0: (0, True, -1), 3: (0, False, -1)}),
    (rs485.measured_resistance, (4.0, 1, 1, 120.0), {1: (0, True, -1), 2: (0, True, -1)}),
    (rs485.bias_resistors, (5.0, 0.3, 8.0, 120.0), {0: (0, False, -1), 1: (0, False, -1), 2: (0, True, -1), 3: (0, False, -1)}),
    (rs485.idle_voltage, (5.0, 600.0, 130.0, 120.0), {1: (0, False, -1), 2: (0, False, -1), 3: (0, False, -1)}),
    (motion.travel_time, (300.0, 6.0), {1: (0, False, -1)}),
    (restriction.stroke_for_gap, ("top-hung", 900.0, 1000.0, 100.0), {3: (0, True, -1)}),
    (restriction.largest_stroke_below_gap, ("top-hung", 900.0, 1000.0, 125.0), {3: (0, False, -1)}),
    (FORCES, ("top-hung", "outward", 900.0, 1000.0, 300.0), {2: (0, False, -1), 3: (0, False, -1), 4: (0, True, -1)}),
    (lambda at: FORCES("top-hung", "outward", 900.0, 1000.0, 100.0, actuator_at_mm=at), (400.0,), {0: (0, False, -1)}),
    (lambda reach: FORCES("top-hung", "outward", 900.0, reach, 100.0, actuator_at_mm=400.0), (1000.0,), {0: (0, False, -1)}),
    (air_flow.single_sided_flow_de_gids_phaff, (0.5, 1.0, 3.0, 20.0, 10.0), {0: (0, True, -1), 1: (0, True, -1)}),
    (air_flow.single_sided_flow, (0.5, 1.0, 3.0, 20.0, 10.0), {0: (0, True, -1), 1: (0, True, -1)}),
    (air_flow.single_sided_flow, (0.5, 1.0, 3.0, 20.0, 10.0), {3: (-273.15, False, -1), 4: (-273.15, False, -1)}),
]  # fmt: skip
CASES = [(f, args, place, *bound) for f, args, places in RANGES for place, bound in places.items()]


def put(arguments, place, value):
    return (
        *arguments[:place],
        type(arguments[place])(value) if value == int(value) else value,
        *arguments[place + 1 :],
    )


@pytest.mark.parametrize(("function", "arguments", "place", "bound", "within", "beyond"), CASES)
def test_at_the_bound_and_beyond(function, arguments, place, bound, within, beyond):
    function(*arguments)
    step = 1 if isinstance(arguments[place], int) else SMALL
    with pytest.raises(ValueError, match=r"\d|above 0|0 and more|0 mm"):
        function(*put(arguments, place, bound + beyond * step))
    if within:
        function(*put(arguments, place, bound))
        return
    with pytest.raises(ValueError, match=r"\d|above 0|0 and more|0 mm"):
        function(*put(arguments, place, bound))
    if function is not rs485.bias_resistors or place != 1:  # a bias for hardly any voltage cannot be matched
        try:
            function(*put(arguments, place, bound - beyond * 0.5))
        except ValueError as error:
            assert "cannot be matched" in str(error)  # noqa: PT017  (another range than the one at its bound)


def test_de_gids_and_phaff_in_wind():
    """De Gids and Phaff 1982, as EN 15242 has it: Q = A/2 · √(0.001 v² + 0.0035 h ΔT + 0.01), by hand.

    v = 4 m/s, h = 1.2 m, ΔT = 10 K: 0.016 + 0.042 + 0.01 = 0.068; √0.068 = 0.260768; 0.8 m² / 2 · 0.260768.
    """
    assert air_flow.single_sided_flow_de_gids_phaff(0.8, 1.2, 4, 22, 12) == pytest.approx(0.104307, abs=5e-7)


def test_a_stroke_below_a_sphere_starts_from_the_levers():
    """Actuator at half the reach: the edge moves twice as far, so half of 124 mm is the most; with sine for chord."""
    assert restriction.largest_stroke_below_gap("top-hung", 900, 1000, 125, 500) == 62
    assert restriction.largest_stroke_below_gap("top-hung", 900, 1000, 124.000001, 500) == 62
    assert restriction.largest_stroke_below_gap("top-hung", 900, 1000, 124, 500) == 61


def test_a_pivot_without_a_place_takes_hold_at_its_edge():
    """The edge of a sash hung at its middle is half its height away: both ways of saying so are one."""
    told = FORCES("centre-pivot", "outward", 900.0, 1000.0, 300.0, actuator_at_mm=500.0, pressure_pa=80.0)
    assert FORCES("centre-pivot", "outward", 900.0, 1000.0, 300.0, pressure_pa=80.0) == told


def test_bias_that_leaves_nothing_for_the_terminator():
    """At R_B = Z/2 the terminator of Renesas TB509 would be infinite: without receivers, V_S = V_AB."""
    with pytest.raises(ValueError, match=r"60\.0 ohm of bias cannot be matched"):
        rs485.bias_resistors(1.0, 1.0, 0, 120)
    bias, end = rs485.bias_resistors(1.001, 1.0, 0, 120)
    assert bias > 60
    assert math.isfinite(end)
