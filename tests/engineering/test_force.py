"""Forces along the chain."""

import math
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from zonecfg.engineering import force, moments

from .laws import HINGES, LAW, shares, sides_mm

pitches = st.one_of(st.sampled_from([0.0, 30.0, 60.0, 90.0]), st.floats(0, 110))
STRIPS = (np.arange(400) + 0.5) / 400


class Case(NamedTuple):
    """A sash in its place, mm, deg, kg, Pa."""

    hinge: str
    opens: str
    pitch: float
    reach: float
    along: float
    radius: float
    mass: float
    pressure: float

    def direction(self, angle):
        """Give the unit vector from the hinge to the closing edge, in the building's x, y, z."""
        pitch = math.radians(self.pitch)
        up = np.array([math.cos(pitch), 0.0, math.sin(pitch)])
        out = np.array([-math.sin(pitch), 0.0, math.cos(pitch)])
        shut = {"top-hung": -up, "bottom-hung": up, "side-hung": np.array([0.0, 1.0, 0.0])}[self.hinge]
        return shut * math.cos(angle) + (out if self.opens == "outward" else -out) * math.sin(angle)

    def lever(self, angle):
        """Give the distance of the chain's line from the hinge, by vectors."""
        shut, opened = self.direction(0.0), self.direction(angle)
        chain = (opened - shut) / np.linalg.norm(opened - shut)
        return self.radius * float(np.linalg.norm(np.cross(shut, chain)))

    def chain_step(self, angle, step):
        """Give the chain's movement between two near angles."""
        ends = [float(np.linalg.norm(self.direction(a) - self.direction(0.0))) for a in (angle - step, angle + step)]
        return self.radius * (ends[1] - ends[0])

    def weight(self, angle):
        """Ask the program for the weight's force."""
        return moments.weight_force(
            self.hinge,
            self.opens,
            self.mass,
            self.reach,
            math.degrees(angle),
            pitch_deg=self.pitch,
            actuator_at_mm=self.radius,
        )

    def wind(self, angle):
        """Ask the program for the wind's force."""
        return moments.wind_force(
            self.pressure, self.reach, self.along, math.degrees(angle), actuator_at_mm=self.radius
        )


@st.composite
def cases(draw, hinges=HINGES[:3]):
    hinge, reach = draw(st.sampled_from(hinges)), draw(sides_mm)
    radius = draw(shares) * reach / (2 if hinge == "centre-pivot" else 1)
    opens, pitch, along = draw(st.sampled_from(["outward", "inward"])), draw(pitches), draw(sides_mm)
    return Case(hinge, opens, pitch, reach, along, radius, draw(st.floats(0, 150)), draw(st.floats(0, 1500)))


angles = st.floats(0.01, 3.05)


@LAW
@given(cases(), angles)
def test_moments_of_strips(case, angle):
    """400 strips turn the sash about its hinge; the chain holds them at the lever of its line."""
    ahead = case.direction(angle + math.pi / 2)  # the way the sash opens
    weight = sum(case.mass / 400 * 9.81 * ahead[2] * strip * case.reach for strip in STRIPS)
    assert case.weight(angle) == pytest.approx(weight / case.lever(angle), rel=1e-6, abs=1e-6)
    wind = sum(case.pressure * case.along * case.reach / 400 * strip * case.reach for strip in STRIPS) * 1e-6
    assert case.wind(angle) == pytest.approx(wind / case.lever(angle), rel=1e-6, abs=1e-6)


@LAW
@given(cases(), st.floats(0.05, 2.9))
def test_virtual_work(case, angle):
    """F·dw: what the chain does is what the sash gains in height, and the wedge of air it sweeps."""
    step = 1e-4
    travel = case.chain_step(angle, step)
    rise = (case.direction(angle + step) - case.direction(angle - step))[2] * case.reach / 2
    expected = case.mass * 9.81 * rise / travel
    assert case.weight(angle) == pytest.approx(expected, rel=1e-5, abs=1e-3)
    swept = case.along * case.reach**2 / 2 * 2 * step * 1e-6
    assert case.wind(angle) == pytest.approx(case.pressure * swept / travel, rel=1e-5)


def summed_seal(case, swing, seal_n_per_m):
    """Moment of the seal [N·m], piece by piece of a millimetre's share along every edge that leaves the frame."""
    pivot = case.hinge == "centre-pivot"
    piece = swing / 400 / 1000
    sides = sum(seal_n_per_m * piece * strip * swing / 1000 for strip in STRIPS)
    edge = seal_n_per_m * case.along / 1000 * swing / 1000
    return 4 * sides + 2 * edge if pivot else 2 * sides + edge


# A flat rooflight in a gale: harder a little way up, easier, and then harder again.
@example(Case("top-hung", "outward", 5.0, 1000, 1000, 1000, 30, 588.6), 0.69, 0.0, 0.0)
# The same, but hardly easier after it; and a sash of 50 g, hardest inside its travel by less than a newton.
@example(Case("top-hung", "outward", 10.76, 1000, 1000, 1000, 30, 578.26), 0.533, 0.0, 0.0)
@example(Case("bottom-hung", "inward", 45.0, 1000, 1000, 1000, 0.05, 0.0), 0.9, 0.0, 0.0)
@LAW
@given(cases(HINGES), st.floats(0, 0.98), st.sampled_from([0.0, 12.0]), st.sampled_from([0.0, 20.0]))
def test_worst_is_the_largest_anywhere(case, travel, seal_n_per_m, friction):
    """No place on a dense travel is harder, and the place named is as hard as said."""
    stroke = travel * 2 * case.radius
    pivot = case.hinge == "centre-pivot"
    swing = case.reach / 2 if pivot else case.reach

    def parts(place, sign):
        angle = 2 * math.asin(place / (2 * case.radius))
        turned = (0.0, 0.0) if pivot else (sign * case.weight(angle), case.wind(angle))
        seal = summed_seal(case, swing, seal_n_per_m) * 1000 / (case.radius * math.cos(angle / 2))
        return *turned, seal if place * swing / case.radius <= 5 else 0.0, friction

    worst = force.worst_forces(
        case.hinge,
        case.opens,
        *((case.reach, case.along) if case.hinge == "side-hung" else (case.along, case.reach)),
        stroke,
        mass_kg=case.mass,
        pitch_deg=case.pitch,
        actuator_at_mm=case.radius,
        pressure_pa=case.pressure,
        seal_n_per_m=seal_n_per_m,
        friction_n=friction,
    )
    edge = 5.0 * case.radius / swing
    places = np.linspace(0, stroke, 101).tolist() + [p for p in (edge, math.nextafter(edge, 0)) if p <= stroke]
    size = 1 + (case.mass * 9.81 + case.pressure * case.along * case.reach * 1e-6) * case.reach / case.radius
    for found, sign in ((worst.opening, 1), (worst.closing, -1)):
        assert found.total_n >= max(sum(parts(place, sign)) for place in places) - 1e-9 * size
        assert 0 <= found.stroke_mm <= stroke
        if abs(found.stroke_mm - edge) > 1e-9:  # there rounding decides whether the seal still holds
            assert found[2:] == pytest.approx(parts(found.stroke_mm, sign), rel=1e-7, abs=1e-7 * size)
        assert found.total_n == pytest.approx(sum(found[2:]))


@pytest.mark.parametrize(
    ("sash", "pitch", "push_at", "pull_at"),
    [
        (("top-hung", "outward"), 90, "end", "start"),  # weight resists opening more and more
        (("bottom-hung", "inward"), 90, "start", "end"),  # the sash wants to fall open
        (("top-hung", "outward"), 0, "start", "end"),  # a flat rooflight is heaviest when shut
        (("side-hung", "outward"), 90, "start", "start"),  # no weight at all, of equal ones the first
    ],
)
def test_where_the_hardest_place_is(sash, pitch, push_at, pull_at):
    """Statics: known from the direction the centre of gravity moves in."""
    worst = force.worst_forces(*sash, 1000, 1000, 300, mass_kg=30, pitch_deg=pitch)
    assert worst.opening.stroke_mm == {"start": 0, "end": 300}[push_at]
    assert worst.closing.stroke_mm == {"start": 0, "end": 300}[pull_at]


def test_a_hardest_place_inside_the_travel():
    """Bottom-hung inward at pitch 45: the pull is as sin(45° + a)/cos(a/2), flat where its slope is 0."""
    low, high = 50.0, 80.0
    for _ in range(100):
        middle = (low + high) / 2
        slope = math.cos(math.radians(45 + middle)) * math.cos(math.radians(middle / 2)) + 0.5 * math.sin(
            math.radians(45 + middle)
        ) * math.sin(math.radians(middle / 2))
        low, high = (middle, high) if slope > 0 else (low, middle)
    stroke = 2000 * math.sin(math.radians(low / 2))
    worst = force.worst_forces("bottom-hung", "inward", 1000, 1000, 1400, mass_kg=30, pitch_deg=45)
    assert worst.closing.stroke_mm == pytest.approx(stroke, abs=0.01)
    expected = 30 * 9.81 * 0.5 * math.sin(math.radians(45 + low)) / math.cos(math.radians(low / 2))
    assert worst.closing.total_n == pytest.approx(expected, rel=1e-9)


def test_chain_on_a_wall_sash():
    """Derived: m·g·w/(2L); 30 kg, L 1.0 m, w 0.30 m gives 44.1 N."""
    angle = math.degrees(2 * math.asin(0.15))
    assert moments.weight_force("top-hung", "outward", 30, 1000, angle) == pytest.approx(44.1, abs=0.05)


def test_published_lever():
    """Published lever example: 50 kg, centre of gravity at 0.8 m, two struts at 0.25 m, 784.8 N each."""
    whole = moments.weight_force("top-hung", "outward", 50, 1600, 0, pitch_deg=0, actuator_at_mm=250)
    assert whole / 2 == pytest.approx(784.8, abs=0.05)


def test_wind_on_a_closed_sash():
    """Published: 10 m/s on 2 m² is 122.5 N; the chain at the edge holds half of it, the hinges half."""
    assert moments.wind_force(61.25, 1000, 2000, 0) == pytest.approx(122.5 / 2, abs=0.05)


def test_clerestory_with_two_actuators():
    """Own arithmetic: 24 kg·g·(3/14) of weight, 88.2 Pa on 0.84 m² of wind, at 300 mm; halved 44.2 N."""
    worst = force.worst_forces("top-hung", "outward", 1200, 700, 300, mass_kg=24, pressure_pa=88.2)
    weight, wind = 24 * 9.81 * 3 / 14, 88.2 * 0.84 / 2 / math.sqrt(1 - (3 / 14) ** 2)
    assert worst.opening.total_n == pytest.approx(weight + wind)
    assert worst.opening.total_n / 2 == pytest.approx(44.2, abs=0.05)
    assert worst.opening.stroke_mm == 300
    assert worst.closing.total_n == pytest.approx(88.2 * 0.84 / 2)  # suction, while it hangs closed


def test_seal_and_friction():
    """By hand: 10 N/m, 1.2 m from hinge to edge, 0.7 m along: 10·(0.7·1.2 + 1.2²) = 22.8 N·m over 1.2 m is 19 N."""
    args = ("side-hung", "outward", 1200, 700)
    for stroke in (4, 5, 300):
        for found in force.worst_forces(*args, stroke, mass_kg=24, seal_n_per_m=10, friction_n=7):
            assert found.total_n == pytest.approx(26, abs=0.001)
    pull = force.worst_forces("bottom-hung", "inward", 1200, 700, 300, mass_kg=24, seal_n_per_m=10).closing
    assert pull.stroke_mm == 300  # 50 N of weight there is more than 19 N of seal
    push = force.worst_forces("top-hung", "outward", 1200, 700, 300, mass_kg=12, seal_n_per_m=10).opening
    assert push.stroke_mm == 300
    push = force.worst_forces("top-hung", "outward", 1200, 700, 30, mass_kg=12, seal_n_per_m=10).opening
    assert push.stroke_mm == 5  # 10·(1.2·0.7 + 0.7²)/0.7 N of seal
    assert push.total_n == pytest.approx(19 + 12 * 9.81 * 5 / 1400, abs=0.001)


def test_seal_far_from_the_actuator():
    """Derived: 600 × 2000 mm, an actuator at 400 mm, 100 N/m: 520 N·m over 0.4 m is 1300 N."""
    found = force.worst_forces("top-hung", "outward", 600, 2000, 200, mass_kg=0, actuator_at_mm=400, seal_n_per_m=100)
    assert found.opening.total_n == pytest.approx(1300, rel=1e-4)


@LAW
@given(st.sampled_from(["horizontal", "vertical"]), sides_mm, sides_mm, st.floats(0, 2), shares)
def test_wind_on_a_pivot_by_strips(axis, width, height, coefficient, share):
    """400 strips of the half that is pressed harder turn it about its axis; both movements meet it."""
    across, along = (width, height) if axis == "vertical" else (height, width)
    radius = share * across / 2
    moment = sum(coefficient * 245 * along * across / 2 / 400 * 1e-6 * strip * across / 2 * 1e-3 for strip in STRIPS)
    found = force.worst_forces(
        "centre-pivot", "outward", width, height, 0.0, mass_kg=60, actuator_at_mm=radius, pressure_pa=245, axis=axis,
        pivot_coefficient=coefficient,
    )  # fmt: skip
    assert found.opening.total_n == pytest.approx(moment / (radius / 1000), rel=1e-6, abs=1e-9)
    assert found.closing == found.opening


@LAW
@given(sides_mm, shares, st.floats(0, 0.9), st.floats(0, 5000))
def test_what_is_held_at_the_edge_by_virtual_work(reach, share, travel, hold):
    """Force times way: the edge goes L·da while the chain gives way by r·cos(a/2)·da."""
    radius = share * reach
    stroke = travel * 2 * radius
    angle, step = 2 * math.asin(stroke / (2 * radius)), 1e-6
    give = 2 * radius * (math.sin((angle + step) / 2) - math.sin((angle - step) / 2))
    expected = hold * give / (reach * 2 * step)
    assert moments.held_at_edge(hold, reach, stroke, radius) == pytest.approx(expected, rel=1e-5, abs=1e-6)


@pytest.mark.parametrize(("pitch", "shape"), [(0, 0.8), (30, 0.8), (45, 0.4), (60, 0), (90, 0)])
def test_snow(pitch, shape):
    """EN 1991-1-3, μ₁, from memory: 0.8 to 30°, falling to 0 at 60°; on the horizontal projection."""
    load = moments.snow_mass(1.0, pitch, 1000, 2000) * 9.81
    assert load == pytest.approx(shape * 1000 * 2 * math.cos(math.radians(pitch)), abs=1e-9)


def test_no_lever_left():
    assert force.worst_forces("top-hung", "outward", 900, 500, 999.9, mass_kg=10) is not None
    assert force.worst_forces("top-hung", "outward", 900, 500, 1000, mass_kg=10) is None
    assert force.worst_forces("centre-pivot", "outward", 900, 500, 499.9, mass_kg=10) is not None
    assert force.worst_forces("centre-pivot", "outward", 900, 500, 500, mass_kg=10) is None


def test_refused():
    with pytest.raises(ValueError, match="sideways"):
        moments.weight_force("top-hung", "sideways", 10, 500, 10)
    with pytest.raises(ValueError, match="other"):
        force.worst_forces("other", "inward", 900, 500, 100, mass_kg=10)
    with pytest.raises(ValueError, match="above 0"):
        force.worst_forces("top-hung", "inward", 900, 500, -1, mass_kg=10)
