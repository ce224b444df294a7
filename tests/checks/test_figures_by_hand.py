"""Figures in what checks say of their examples, worked out here from the examples' own fields and nothing of the program.

``sentences.txt`` holds the whole sentences; these are the figures in them that a formula gave.
"""

import math

import pytest
from plans import example, problems

G, AIR = 9.81, 1.225


def pressure(speed):
    """Dynamic pressure of wind [Pa]."""
    return AIR / 2 * speed**2


def snow_on_a_vent():
    """0.9 x 1.0 m, 25 kg, pitch 10°, 12 m/s, 5 N/m, 0.75 kPa, lifted from closed to 5 mm; moments about the hinge."""
    snow = 0.8 * 750 * 0.9 * math.cos(math.radians(10))  # EN 1991-1-3, from memory
    angle = 2 * math.asin(5 / 2000)
    weight = (25 * G + snow) / 2 * math.sin(math.radians(80) + angle)  # a flat sash is lifted, an upright one swings
    seal = 5 * (0.9 + 1.0)
    return (weight + pressure(12) * 0.9 / 2 + seal) / math.cos(angle / 2)


def sash_in_the_sensor_s_wind():
    """0.9 x 1.0 m, 25 kg in a wall at 300 mm, 15 m/s: the chain's lever is cos(a/2) of a metre."""
    angle = 2 * math.asin(300 / 2000)
    return (25 * G / 2 * math.sin(angle) + pressure(15) * 0.9 / 2) / math.cos(angle / 2)


@pytest.mark.parametrize(
    ("check", "said"),
    [
        ("thrust-too-small-in-snow", f"takes {snow_on_a_vent():.0f} N"),
        ("wind-limit-over-force", f"up to {sash_in_the_sensor_s_wind():.0f} N"),
        ("sash-loose-in-storm", f"with {1.2 * pressure(45) * 0.9 * 1.1 / 2:.0f} N"),
        ("battery-too-small", f"take {0.02 * 72 + 1.2 * 180 / 3600:.3g} Ah"),
        ("smoke-vent-slow", f"{350 / 5:.0f} s after"),
        ("open-sash-over-walkway", f"{1000 * math.sin(2 * math.asin(300 / 2000)):.0f} mm into a walkway {800 + 300} mm"),
        ("fuse-under-load", f"feeds {3 * 1.0 + 0.15:g} A"),
        ("opening-over-fall-limit", f"a stroke of {125 - 5} mm"),
    ],
)  # fmt: skip
def test_the_figure_said(check, said):
    assert said in problems(example(check), check)[0].message
