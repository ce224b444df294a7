"""Sash geometry."""

import math

import pytest
from hypothesis import given
from shapely import Polygon, box
from shapely.ops import unary_union

from zonecfg.engineering import sash

from .laws import LAW, SINGLE, hinges, shares, sides_mm


@pytest.mark.parametrize(
    ("hinge", "angle_deg", "geometric_m2", "equivalent_m2"),
    [
        ("top-hung", 19.188, 1.2395099401, 0.9554960728),
        ("bottom-hung", 19.188, 1.2395099401, 0.9554960728),
        ("side-hung", 28.955, 1.2341228724, 0.9530218244),
        ("centre-pivot", None, 1.7071068287, 1.1268078089),
    ],
)
def test_areas_of_a_published_opening(hinge, angle_deg, geometric_m2, equivalent_m2):
    """RWTH-EBC AixLib e5df9a8d, Airflow.WindowVentilation, stored results: 1.0 × 1.5 m, chord 0.50 m."""
    opening = sash.sash_opening(hinge, 1000, 1500, 500)
    assert opening.geometric_m2 == pytest.approx(geometric_m2, rel=SINGLE)
    assert opening.equivalent_m2 == pytest.approx(equivalent_m2, rel=SINGLE)
    if angle_deg:
        assert opening.angle_deg == pytest.approx(angle_deg, abs=0.0005)


def test_clerestory_worked_by_hand():
    """Own arithmetic: 1200 × 700, 300 mm at the edge; sin(a/2) = 3/14, so sin(a) = 2·(3/14)·√187/14."""
    opening = sash.sash_opening("top-hung", 1200, 700, 300)
    sine = 2 * 3 * math.sqrt(187) / 14**2
    assert opening.angle_deg == pytest.approx(24.75, abs=0.005)
    assert opening.gap_mm == 300
    assert opening.free_m2 == pytest.approx(1.2 * 0.3 + 0.49 * sine, rel=1e-12)
    assert opening.free_m2 == pytest.approx(0.5651, abs=0.00005)
    assert opening.equivalent_m2 == pytest.approx(0.4689, abs=0.00005)


@LAW
@given(hinges, sides_mm, sides_mm, shares, shares)
def test_areas_are_those_of_the_drawn_shapes(hinge, width, height, hold, travel):
    """The opened sash drawn in plan and section: shapely measures the same surfaces."""
    swing, along, radius = sash.levers(hinge, width, height)
    radius *= hold
    stroke = travel * 1.99 * radius
    opening = sash.sash_opening(hinge, width, height, stroke, radius)
    angle = math.radians(opening.angle_deg)
    edge = (swing * math.cos(angle), swing * math.sin(angle))
    side = Polygon([(0, 0), (swing, 0), edge]).area
    front = box(0, 0, along, math.dist(edge, (swing, 0))).area
    halves = 2 if hinge == "centre-pivot" else 1
    assert opening.geometric_m2 == pytest.approx(halves * (front + 2 * side) * 1e-6, rel=1e-9, abs=1e-12)
    assert opening.gap_mm == pytest.approx(math.dist(edge, (swing, 0)), rel=1e-9)
    hole = box(-swing if halves == 2 else 0, 0, swing, along)
    shadow = unary_union([box(0, 0, edge[0], along), box(-edge[0] if halves == 2 else 0, 0, 0, along)])
    seen = hole.difference(shadow).area if edge[0] > 0 else hole.area
    assert opening.projected_m2 == pytest.approx(seen * 1e-6, rel=1e-6, abs=1e-9)
    assert opening.clear_m2 == pytest.approx(hole.area * 1e-6)


@LAW
@given(hinges, sides_mm, sides_mm, shares, shares)
def test_laws_of_the_areas(hinge, width, height, hold, travel):
    """Wider strokes give more; a series of two holes gives less than either."""
    _, _, radius = sash.levers(hinge, width, height)
    radius *= hold
    stroke = travel * math.sqrt(2) * radius * 0.999
    less = sash.sash_opening(hinge, width, height, stroke * 0.9, radius)
    more = sash.sash_opening(hinge, width, height, stroke, radius)
    assert more.angle_deg < 90
    assert all(a <= b for a, b in zip(less, more, strict=True))
    assert more.equivalent_m2 < more.free_m2 <= more.clear_m2
    assert more.equivalent_m2**-2 == pytest.approx(more.clear_m2**-2 + more.geometric_m2**-2)
    angle = math.radians(more.angle_deg)
    assert stroke**2 == pytest.approx(2 * radius**2 * (1 - math.cos(angle)))  # law of cosines


def test_closed_and_beyond():
    assert sash.sash_opening("side-hung", 600, 900, 0) == (0, 0, 0, 0.54, 0, 0, 0)
    assert sash.equivalent_area(0, 0) == 0
    assert sash.opening_angle(1200, 600) == pytest.approx(180)
    assert sash.sash_opening("side-hung", 600, 900, 1200) is not None
    assert sash.sash_opening("side-hung", 600, 900, 1200.001) is None
    assert sash.sash_opening("centre-pivot", 600, 900, 900.001) is None


def test_sides():
    assert sash.hinge_sides("top-hung", 1200, 700) == (700, 1200)
    assert sash.hinge_sides("side-hung", 1200, 700) == (1200, 700)
    assert sash.levers("centre-pivot", 1200, 700) == (350, 1200, 350)
    assert sash.levers("bottom-hung", 1200, 700, 200) == (700, 1200, 200)


def test_a_gap_at_the_edge_is_the_stroke_to_the_last_digit():
    """Arithmetic: times and over 1049.3, 63.5 is 63.50000000000001."""
    assert sash.edge_gap(63.5, 1049.3, 1049.3) == 63.5
    assert sash.edge_gap(62.0, 1100.0, 550.0) == 124


def test_mass_of_glass():
    """Common practice, 2.5 kg/m² a millimetre: 8 mm of panes in 1.2 × 0.7 m weigh 16.8 kg."""
    assert sash.sash_mass(1200, 700, 8) == pytest.approx(16.8, rel=1e-12)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: sash.hinge_sides("louvre", 1200, 700),
        lambda: sash.hinge_sides("top-hung", 0, 700),
        lambda: sash.levers("top-hung", 1200, 700, 0),
        lambda: sash.opening_angle(-1, 700),
        lambda: sash.opening_angle(1, 0),
    ],
)
def test_refused(wrong):
    with pytest.raises(ValueError, match=r"\d|louvre"):
        wrong()
