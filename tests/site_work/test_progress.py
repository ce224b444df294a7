"""How far commissioning is, counted apart from the program with an independent YAML reader."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from zonecfg.schema import schema_of

HOUSE = Path(__file__).parents[2] / "examples" / "larkenby-hall"


@pytest.fixture
def page(zonecfg):
    return json.loads(zonecfg("review", HOUSE, "--format", "json").out)


def test_counts_are_those_of_the_record(page):
    data = YAML(typ="safe", pure=True).load((HOUSE / "as-commissioned.yaml").read_text("utf-8"))
    record = data["record"]
    mine = {
        a for a, fields in data["actuators"].items() if record["actuators"].get(a, {}).get("serial") == fields["serial"]
    }
    done = {entry["what"]: (entry["done"], entry["of"]) for entry in page["progress"]}
    actuators = len(data["actuators"])
    assert done["serials written down"] == (sum("serial" in f for f in data["actuators"].values()), actuators)
    assert done["actuators calibrated"] == (sum(record["actuators"][a]["calibrated"] for a in mine), actuators)
    assert done["windows walked"] == (sum(record["actuators"][a]["walk_test"] == "pass" for a in mine), actuators)
    assert done["groups walked"] == (
        sum(r["walk_test"] == "pass" for r in record["groups"].values()),
        len(data["groups"]),
    )
    assert done["rain sensors wetted"] == (2, 3)
    (wetted,) = (entry for entry in page["progress"] if entry["what"] == "rain sensors wetted")
    assert wetted["failed"] == [s for s, r in record["sensors"].items() if r.get("wet_test") == "fail"]
    Draft202012Validator(schema_of("review")).validate(page)


def test_a_record_of_the_actuator_before_shows_nothing_of_the_new_one(page):
    """A-213a was replaced after its record was made."""
    still = {entry["what"]: entry["open"] for entry in page["progress"]}
    assert still["actuators calibrated"] == still["windows walked"] == ["A-213a"]


def test_every_thing_is_done_failed_or_open(page):
    for entry in page["progress"]:
        assert entry["done"] + len(entry["failed"]) + len(entry["open"]) == entry["of"]


def test_the_bar_is_full_only_when_all_is_done(zonecfg):
    text = zonecfg("review", HOUSE).out
    bars = {line[2:30].strip(): line[30:50] for line in text.splitlines() if "░" in line or "█" in line}
    assert bars["serials written down"] == "█" * 20
    assert bars["windows walked"] == "█" * 19 + "░"  # 59 of 60 rounds to all of it
    assert bars["rain sensors wetted"] == "█" * 13 + "░" * 7  # 2 of 3
    markdown = zonecfg("review", HOUSE, "--format", "markdown").out
    assert "| rain sensors wetted | 2 of 3 | R-2 |  |" in markdown


def test_a_plan_alone_has_no_progress(zonecfg, tmp_path):
    for name in ("as-designed.yaml", "equipment.yaml"):
        (tmp_path / name).write_bytes((HOUSE / name).read_bytes())
    assert json.loads(zonecfg("review", tmp_path, "--format", "json").out)["progress"] == []
    assert "Commissioning\n" not in zonecfg("review", tmp_path).out
