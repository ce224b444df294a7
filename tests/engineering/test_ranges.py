"""Every range that a docstring states, at its bound: what stands there is computed, what lies beyond is refused."""

from functools import partial

from zonecfg.engineering import air_flow, force, motion, restriction, rs485, sash

FORCES = partial(force.worst_forces, mass_kg=20)
SMALL = 1e-6

# function, arguments within all ranges, and by place: the bound, whether the bound itself is within, where beyond is
RANGES = [
    (sash.hinge_sides, ("top-hung", 900.0, 1000.0), {1: (0, False, -1), 2: (0, False, -1)}),
    (sash.levers, ("top-hung", 900.0, 1000.0, 400.0), {3: (0, False, -1)}),
    (sash.opening_angle, (300.0, 900.0), {0: (0, True, -1), 1: (0, False, -1)}),
    (rs485.longest_line, (9600.0,), {0: (0, False, -1)}),
    (rs485.measured_resistance, (4.0, 1, 1, 120.0), {0: (0, True, -1), 3: (0, False, -1)}),
    (rs485.measured_resistance, (4.0, 1, 1, 120.0), {1: (0, True, -1), 2: (0, True, -1)}),
    (motion.travel_time, (300.0, 6.0), {1: (0, False, -1)}),
    (restriction.largest_stroke_below_gap, ("top-hung", 900.0, 1000.0, 125.0), {3: (0, False, -1)}),
    (FORCES, ("top-hung", "outward", 900.0, 1000.0, 300.0), {2: (0, False, -1), 3: (0, False, -1), 4: (0, True, -1)}),
    (lambda at: FORCES("top-hung", "outward", 900.0, 1000.0, 100.0, actuator_at_mm=at), (400.0,), {0: (0, False, -1)}),
    (lambda reach: FORCES("top-hung", "outward", 900.0, reach, 100.0, actuator_at_mm=400.0), (1000.0,), {0: (0, False, -1)}),
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


def test_a_stroke_below_a_sphere_starts_from_the_levers():
    """Actuator at half the reach: the edge moves twice as far, so half of 124 mm is the most; with sine for chord."""
    assert restriction.largest_stroke_below_gap("top-hung", 900, 1000, 125, 500) == 62
    assert restriction.largest_stroke_below_gap("top-hung", 900, 1000, 124.000001, 500) == 62
    assert restriction.largest_stroke_below_gap("top-hung", 900, 1000, 124, 500) == 61


def test_a_pivot_without_a_place_takes_hold_at_its_edge():
    """The edge of a sash hung at its middle is half its height away: both ways of saying so are one."""
    told = FORCES("centre-pivot", "outward", 900.0, 1000.0, 300.0, actuator_at_mm=500.0, pressure_pa=80.0)
    assert FORCES("centre-pivot", "outward", 900.0, 1000.0, 300.0, pressure_pa=80.0) == told
