"""The figures printed for a small site, each worked by hand from the published formulas.

Two clerestory sashes of 1200 by 700 mm and 24 kg with two actuators each at 300 mm, a bedroom sash of 900 by 1100 mm and
28 kg with one at 120 mm, in a gust of 12 m/s; 5 actuators of 0.9 A, a controller of 0.15 A and a rain sensor of 0.05 A on
one line of 2.5 mm², class 5, 40 °C, fed with 24 V.
"""

import pytest
from plans import plan, site_of

from zonecfg.figures import Figures


@pytest.fixture(scope="module")
def sample():
    chain = {
        "stroke_max_mm": 350, "thrust_n": 250, "speed_mm_s": 6, "voltage_min_v": 20.4, "running_a": 0.9,
        "idle_a": 0.02, "bus_unit_load": 0.25, "sync": "wire", "hold_n": 300,
    }  # fmt: skip
    wall = {"hinge": "top-hung", "opens": "outward", "stays": "none"}
    pairs = [("PS-1", "C-1", 2), ("C-1", "A-01a", 9), ("A-01a", "A-01b", 1), ("A-01b", "A-02a", 2),
             ("A-02a", "A-02b", 1), ("A-02b", "A-11", 14), ("A-11", "R-1", 6)]  # fmt: skip
    data = {
        "format": "zonecfg-site/1",
        "state": "as-designed",
        "site": {
            "name": "Larkenby Hall",
            "wind_m_s": 12,
            "rules": {"falls": "NCC-2022-D3D29", "ventilation": "NCC-2022-HP-10.6.2"},
        },
        "types": {
            "openings": {
                "clerestory": {**wall, "width_mm": 1200, "height_mm": 700, "sash_mass_kg": 24},
                "bedroom": {**wall, "width_mm": 900, "height_mm": 1100, "sash_mass_kg": 28},
            },
            "actuators": {"chain": chain},
            "controllers": {"hall": {"moves_at_once": 20, "bus_unit_load": 1, "idle_a": 0.15}},
            "sensors": {"plate": {"measures": "rain", "responds_s": 2, "running_a": 0.05, "bus_unit_load": 0.25}},
            "supplies": {"psu": {"output_v": 24, "output_a": 10}},
            "cables": {"pair": {"conductor_mm2": 2.5, "conductor_class": 5, "conductor_c": 40}},
        },
        "rooms": {
            "studio": {"use": "assembly", "floor_area_m2": 40},
            "guest-1": {"use": "bedroom", "floor_area_m2": 16},
        },
        "openings": {
            "W-01": {"type": "clerestory", "room": "studio", "sill_mm": 2700, "drop_mm": 300},
            "W-02": {"type": "clerestory", "room": "studio", "sill_mm": 2700, "drop_mm": 300},
            "W-11": {"type": "bedroom", "room": "guest-1", "sill_mm": 800, "drop_mm": 3100},
        },
        "controllers": {"C-1": {"type": "hall"}},
        "supplies": {"PS-1": {"type": "psu"}},
        "actuators": {
            **{f"A-{w}{p}": {"type": "chain", "opening": f"W-{w}", "stroke_mm": 300} for w in ("01", "02") for p in "ab"},
            "A-11": {"type": "chain", "opening": "W-11", "stroke_mm": 120},
        },
        "groups": {
            "studio-south": {"actuators": ["A-01a", "A-01b", "A-02a", "A-02b"]},
            "guest-1-east": {"actuators": ["A-11"]},
        },
        "sensors": {"R-1": {"type": "plate"}},
        "links": {"R-1": ["studio-south", "guest-1-east"]},
        "wet_weather": {"studio-south": {"open_percent": 10}, "guest-1-east": {"open_percent": 0}},
        "cables": {
            f"K-{number:02}": {
                "from": one, "to": other, "length_m": length, "type": "pair",
                "carries": ["power"] if one == "PS-1" else ["power", "bus"],
            }
            for number, (one, other, length) in enumerate(pairs, start=1)
        },
        "terminators": ["C-1", "R-1"],
    }  # fmt: skip
    return Figures(site_of(data)).printed


def test_sash(sample):
    """A = 2·asin(300/1400) = 24.75°; B·w + L²·sin a = 0.36 + 0.49·0.41864 = 0.5651 m², under 0.84 m²;

    (0.84⁻² + 0.5651⁻²)^-½ = 0.4689 m². Weight 24·9.81·0.3/1.4 = 50.45 N and wind 88.2·1.2·0.7/(2·cos(a/2)) = 37.93 N,
    half of both for each actuator: 44.2 N.
    """
    figure = sample.openings["W-01"]
    assert figure.stroke_mm == 300
    assert figure.gap_mm == 300
    assert figure.angle_deg == pytest.approx(24.75, abs=0.005)
    assert figure.free_area_m2 == pytest.approx(0.5651, abs=0.00005)
    assert figure.equivalent_area_m2 == pytest.approx(0.4689, abs=0.00005)
    assert figure.sash_area_m2 == pytest.approx(0.84, abs=1e-9)
    assert figure.force_per_actuator_n == pytest.approx(44.2, abs=0.05)
    assert figure.actuators == 2


def test_rooms(sample):
    """Twice 0.5651 m² free, twice 0.84 m² counted, 5 % of 40 m² asked (ABCB Housing Provisions, 10.6.2)."""
    studio = sample.rooms["studio"]
    assert studio.free_area_m2 == pytest.approx(1.130, abs=0.0005)
    assert studio.counted_area_m2 == pytest.approx(1.68, abs=1e-9)
    assert studio.required_area_m2 == pytest.approx(2.0, abs=1e-9)
    assert studio.floor_area_m2 == 40
    assert not hasattr(studio.flow_m3_s, "real")  # the plan gives no temperatures: no flow is asked


def test_actuators(sample):
    """7.98 ohm/km·1.0786·2 = 0.017214 ohm/m; 24 − 0.017214·(2·4.7 + 9·4.55) = 23.1 V. 300 mm at 6 mm/s: 50 s."""
    assert sample.actuators["A-01a"].voltage_at_peak_v == pytest.approx(23.1, abs=0.05)
    assert sample.actuators["A-01a"].travel_s == pytest.approx(50)


def test_supplies(sample):
    """5·0.9 + 0.15 + 0.05 A, when all close."""
    supply = sample.supplies["PS-1"]
    assert supply.peak_a == pytest.approx(4.7, abs=1e-9)
    assert supply.peak_event == "all close"
    assert supply.output_a == 10


def test_bus(sample):
    """9 + 1 + 2 + 1 + 14 + 6 m of bus; 1 + 5·0.25 + 0.25 unit loads."""
    assert sample.controllers["C-1"].bus_length_m == pytest.approx(33)
    assert sample.controllers["C-1"].bus_unit_loads == pytest.approx(2.5)


def test_sensors(sample):
    """300 mm to a tenth of the stroke at 6 mm/s are 45 s, and 2 s to respond; 120 mm to closed are 20 s."""
    sensor = sample.sensors["R-1"]
    assert (sensor.groups, sensor.actuators) == (2, 5)
    assert sensor.last_settled_s == pytest.approx(47)


def test_what_is_missing_is_null():
    """A plan that gives nothing but the sash's size has its area and no other figure."""
    bare = plan(types_openings={"sash": {"hinge": "other"}}, actuators={"A-1": {"type": "none", "stroke_mm": 100}})
    figures = Figures(site_of(bare))
    opening = figures.printed.openings["W-1"]
    assert opening.sash_area_m2 == pytest.approx(0.9)
    assert (opening.angle_deg, opening.gap_mm, opening.free_area_m2, opening.force_per_actuator_n) == (None,) * 4
    assert figures.printed.actuators["A-1"].voltage_at_peak_v is None
    assert figures.printed.actuators["A-1"].travel_s is None
