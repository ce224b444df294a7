"""``zonecfg figures``: what it prints, how it ends, and the shape of its JSON."""

import json
from pathlib import Path

import jsonschema
import pytest
from command import zonecfg  # noqa: F401  (a fixture)
from sites import as_yaml, site_data, site_text

from zonecfg.schema import schema_of

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "examples" / "larkenby-hall"


@pytest.fixture
def site(tmp_path):
    path = tmp_path / "as-designed.yaml"
    path.write_text(site_text(41), "utf-8")
    return path


def test_json_has_every_key_of_every_thing(zonecfg, site):  # noqa: F811
    done = zonecfg("figures", site, "--format", "json")
    assert done.status == 0
    answer = json.loads(done.out)
    assert answer["format"] == "zonecfg-figures/1"
    keys = {
        "openings": "stroke_mm angle_deg gap_mm free_area_m2 equivalent_area_m2 sash_area_m2 force_per_actuator_n actuators",
        "rooms": "free_area_m2 counted_area_m2 required_area_m2 floor_area_m2",
        "actuators": "voltage_at_peak_v travel_s",
        "supplies": "peak_a peak_event output_a",
        "controllers": "bus_length_m bus_unit_loads",
        "sensors": "groups actuators last_settled_s",
    }  # fmt: skip
    data = site_data(41)
    assert list(answer) == ["format", *keys]
    for section, names in keys.items():
        assert list(answer[section]) == list(data[section])
        assert all(list(figure) == names.split() for figure in answer[section].values())
        assert all(None not in figure.values() for figure in answer[section].values())


@pytest.mark.parametrize("state", ["as-designed", "as-commissioned"])
def test_json_is_what_the_schema_says(zonecfg, state):  # noqa: F811
    done = zonecfg("figures", HOUSE / f"{state}.yaml", "--format", "json")
    assert done.status == 0
    jsonschema.Draft202012Validator(schema_of("figures")).validate(json.loads(done.out))


def test_flow_only_where_temperatures_are_given(zonecfg, tmp_path):  # noqa: F811
    """0.025·A·U in the mean wind, the equivalent area of the plan's only opening: Warren and Parkins, wind alone."""
    data = site_data(1)
    data["site"] |= {"indoor_c": 20, "outdoor_c": 20, "ventilation_wind_m_s": 3}
    path = tmp_path / "as-designed.yaml"
    path.write_text(as_yaml(data), "utf-8")
    answer = json.loads(zonecfg("figures", path, "--format", "json").out)
    (room,), (opening,) = answer["rooms"].values(), answer["openings"].values()
    assert room["flow_m3_s"] == pytest.approx(0.025 * opening["equivalent_area_m2"] * 3)
    assert room["flow_without_wind_m3_s"] == 0
    for own in data["openings"].values():  # an insect screen leaves a share of the hole
        own |= {"screen": "insect", "screen_free_percent": 50}
    path.write_text(as_yaml(data), "utf-8")
    answer = json.loads(zonecfg("figures", path, "--format", "json").out)
    (screened,) = answer["rooms"].values()
    assert screened["flow_m3_s"] == pytest.approx(room["flow_m3_s"] / 2)
    del data["site"]["ventilation_wind_m_s"]  # and the gust stands in for nothing
    path.write_text(as_yaml(data), "utf-8")
    answer = json.loads(zonecfg("figures", path, "--format", "json").out)
    assert next(iter(answer["rooms"].values()))["flow_m3_s"] is None
    jsonschema.Draft202012Validator(schema_of("figures")).validate(answer)


def test_text_fits_80_columns_and_has_no_colour(zonecfg, site):  # noqa: F811
    done = zonecfg("figures", site)
    assert done.status == 0
    assert max(map(len, done.out.splitlines())) <= 80
    assert "\x1b" not in done.out
    for title in ("Openings", "Rooms", "Actuators", "Supplies", "Controllers", "Sensors"):
        assert f"\n{title}\n" in done.out


def test_two_runs_are_the_same_to_the_byte(zonecfg):  # noqa: F811
    for fmt in ("text", "json", "markdown"):
        first, second = (zonecfg("figures", HOUSE / "as-designed.yaml", "--format", fmt).out for _ in range(2))
        assert first == second


def test_faults_of_the_plan_do_not_stop_it(zonecfg, tmp_path):  # noqa: F811
    """A wrong shape is a figure less, and said so; the rest is computed."""
    path = tmp_path / "as-designed.yaml"
    path.write_text(
        site_text(9).replace("stroke_mm: 240", "stroke_mm: wide", 1).replace("sill_mm: 900", "sil_mm: 900", 1), "utf-8"
    )
    done = zonecfg("figures", path, "--format", "json")
    assert done.status == 0
    assert any(figure["gap_mm"] is not None for figure in json.loads(done.out)["openings"].values())
    assert "of reading; what they touch is not known" in zonecfg("figures", path).out


def test_what_is_null_is_told_why(zonecfg, tmp_path):  # noqa: F811
    data = site_data(3)
    del data["types"]["cables"]["feed-2x4"]["conductor_mm2"]
    path = tmp_path / "as-designed.yaml"
    path.write_text(as_yaml(data), "utf-8")
    out = zonecfg("figures", path).out
    assert "Not computed" in out
    assert "conductor_mm2 of the cable is not given (K-1-2)" in " ".join(out.split())


@pytest.mark.parametrize(
    "text",
    ["format: zonecfg-site/1\n  state: [", "\x00", "format: zonecfg-site/1\nformat: [\n"],
    ids=["cut", "nul", "open"],
)
def test_an_unreadable_file_ends_with_2(zonecfg, tmp_path, text):  # noqa: F811
    path = tmp_path / "as-designed.yaml"
    path.write_text(text, "utf-8")
    done = zonecfg("figures", path)
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith("zonecfg: ")


def test_which_file(zonecfg, tmp_path):  # noqa: F811
    """A folder of one state will do; of two, one has to be named; a catalogue and nothing have no figures."""
    (tmp_path / "as-designed.yaml").write_text(site_text(2), "utf-8")
    assert zonecfg("figures", tmp_path).status == 0
    (tmp_path / "as-commissioned.yaml").write_text(site_text(2, state="as-commissioned"), "utf-8")
    done = zonecfg("figures", tmp_path)
    assert done.status == 2
    assert "as-commissioned.yaml and as-designed.yaml" in done.err
    assert zonecfg("figures", HOUSE / "equipment.yaml").status == 2
    assert zonecfg("figures", tmp_path / "none.yaml").status == 2


def test_names_from_a_plan_are_shown_not_obeyed(zonecfg, tmp_path):  # noqa: F811
    data = site_data(1)
    data["rooms"] = {"r|m*": {"use": "office", "floor_area_m2": 5}, **data["rooms"]}
    path = tmp_path / "as-designed.yaml"
    path.write_text(as_yaml(data), "utf-8")
    for fmt in ("text", "markdown"):
        assert zonecfg("figures", path, "--format", fmt).status == 0
