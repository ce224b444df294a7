"""The stroke that keeps a gap."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.engineering import restriction, sash

from .laws import LAW, hinges, shares, sides_mm

spheres = st.one_of(st.sampled_from([100, 102, 125]), st.floats(1, 3000))


@pytest.mark.parametrize(
    ("sphere_mm", "actuator_at_mm", "stroke_mm"),
    [(125, None, 124), (102, None, 101), (100, None, 99), (125, 550, 62), (125, 275, 31), (100, 550, 49)],
)
def test_sphere_of_a_fall_rule(sphere_mm, actuator_at_mm, stroke_mm):
    """NCC D3D29 125 mm, IRC R312.2 102 mm, ADK 100 mm: a smaller gap passes, an equal one fails."""
    args = ("top-hung", 900, 1100, sphere_mm, actuator_at_mm)
    assert restriction.largest_stroke_below_gap(*args) == stroke_mm


@LAW
@given(hinges, sides_mm, sides_mm, shares, spheres)
def test_no_larger_whole_stroke_stops_the_sphere(hinge, width, height, hold, sphere):
    _, _, radius = sash.levers(hinge, width, height)
    radius *= hold
    stroke = restriction.largest_stroke_below_gap(hinge, width, height, sphere, radius)
    assert stroke >= 0
    assert sash.sash_opening(hinge, width, height, stroke, radius).gap_mm < sphere
    more = sash.sash_opening(hinge, width, height, stroke + 1, radius)
    assert more is None or more.gap_mm >= sphere
