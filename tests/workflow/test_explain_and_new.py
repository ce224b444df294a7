"""``zonecfg explain``, ``schema`` and ``new``."""

import json
import re
from pathlib import Path

import pytest
import yaml

from zonecfg.checks.registry import entries
from zonecfg.rules import reader
from zonecfg.schema import schema_of
from zonecfg.workflow.explain import Guide, explain

GUIDE = explain(None)
assert isinstance(GUIDE, Guide)
FIELDS = {field.name: field for field in GUIDE.fields}


@pytest.mark.parametrize("check", sorted(entries()))
def test_every_check_is_explained(zonecfg, check):
    """Why, wrong, right and the source, and all of it from the check's own file."""
    done = zonecfg("explain", check)
    assert (done.status, done.err) == (0, "")
    help_ = entries()[check].help
    flat = " ".join(done.out.split())
    for part in (help_.title, help_.why, help_.cure, help_.source):
        assert " ".join(part.split()) in flat
    for line in (help_.wrong + "\n" + help_.right).splitlines():
        assert line.strip() in done.out


def test_every_field_is_explained(zonecfg):
    assert len(FIELDS) > 150
    for name, field in FIELDS.items():
        done = zonecfg("explain", name)
        assert (done.status, done.err) == (0, ""), name
        assert " ".join(field.meaning.split()) in " ".join(done.out.split())


def test_every_field_of_the_schema_is_among_them():
    """Nobody has to read the schema itself; a type's fields are those of the thing."""
    schema = schema_of("site")
    missing = []
    for section, thing in (("openings", "Opening"), ("actuators", "Actuator"), ("controllers", "Controller"),
                           ("sensors", "Sensor"), ("supplies", "Supply"), ("cables", "Cable"), ("rooms", "Room"),
                           ("groups", "Group"), ("wet_weather", "WetWeather"), ("strong_wind", "StrongWind"),
                           ("accepted", "Acceptance"), ("site", "SiteInfo")):  # fmt: skip
        missing += [
            f"{section}.{name}" for name in schema["$defs"][thing]["properties"] if f"{section}.{name}" not in FIELDS
        ]
    assert missing == []


@pytest.mark.parametrize("name", sorted(FIELDS))
def test_an_example_of_a_field_is_yaml(name):
    example = FIELDS[name].example
    if example is not None:
        value = yaml.safe_load(example)
        assert list(value) == [name.rsplit(".", 1)[-1]]


@pytest.mark.parametrize(
    ("name", "words"),
    [("openings.drop_mm", ["Unit: mm", "3100"]), ("drop_mm", ["Unit: mm"]), ("actuators.type", ["needed"]),
     ("controllers.limits.actuators", ["whole number", "at least 0"]), ("wet_weather.open_percent", ["at most 100",
      "needed"]),
     ("rooms.use", ["bedroom", "assembly"]), ("record.sensors.settled_after_s", ["Unit: s"]), ("site.rules.falls",
      ["Rule set"])],
)  # fmt: skip
def test_what_is_said_of_a_field(zonecfg, name, words):
    """Units and bounds are the format's own."""
    done = zonecfg("explain", name)
    assert done.status == 0
    assert all(word in done.out for word in words), done.out


@pytest.mark.parametrize(
    ("name", "nearest"),
    [("group-emty", "group-empty"), ("openings.drop", "openings.drop_mm"), ("", "")],
)
def test_an_unknown_name(zonecfg, name, nearest):
    done = zonecfg("explain", name)
    assert (done.status, done.out) == (2, "")
    assert nearest in done.err
    assert "internal" not in done.err


def test_a_field_that_several_things_have_is_asked_for_in_full(zonecfg):
    done = zonecfg("explain", "serial")
    assert done.status == 2
    assert "actuators.serial" in done.err
    assert "sensors.serial" in done.err


def test_the_list_names_everything(zonecfg):
    done = zonecfg("explain")
    assert done.status == 0
    words = set(re.findall(r"[a-z0-9_.-]+", done.out))
    assert set(entries()) <= words
    assert {name.split(".", 1)[-1].rstrip(".") for name in FIELDS if "." in name} <= {w.rstrip(".,") for w in words}


@pytest.mark.parametrize("kind", ["site", "catalogue", "findings", "changes"])
def test_schema_prints_what_is_committed(zonecfg, kind):
    done = zonecfg("schema", kind)
    assert done.status == 0
    assert json.loads(done.out) == json.loads(
        (Path(__file__).parents[2] / "schemas" / f"{kind}.schema.json").read_text("utf-8")
    )


class TestNew:
    def test_the_first_site_passes(self, zonecfg, tmp_path, monkeypatch):
        """No finding is open; what is accepted has its reason."""
        monkeypatch.chdir(tmp_path)
        made = zonecfg("new", "first")
        assert (made.status, made.out.split()) == (0, ["first/as-designed.yaml", "first/equipment.yaml"])
        answer = json.loads(zonecfg("check", "first", "--format", "json").out)
        assert [f for f in answer["findings"] if f["accepted"] is None] == []
        assert zonecfg("check", "first", "--fail-on", "note").status == 0

    def test_a_folder_that_is_not_there_is_made(self, zonecfg, tmp_path):
        assert zonecfg("new", tmp_path / "a" / "b" / "c").status == 0

    def test_nothing_is_overwritten(self, zonecfg, tmp_path):
        (tmp_path / "equipment.yaml").write_text("mine")
        done = zonecfg("new", tmp_path)
        assert done.status == 2
        assert (tmp_path / "equipment.yaml").read_text() == "mine"
        assert not (tmp_path / "as-designed.yaml").exists()
        assert zonecfg("new", tmp_path, "--force").status == 0
        assert (tmp_path / "equipment.yaml").read_text() != "mine"

    def test_a_file_in_the_way(self, zonecfg, tmp_path):
        (tmp_path / "file").write_text("mine")
        assert zonecfg("new", tmp_path / "file").status == 2

    def test_every_line_for_an_editor_leads_to_a_schema(self, zonecfg, tmp_path):
        """The first line names a schema by a URL or a path; a path that is not there would switch completion off."""
        zonecfg("new", tmp_path / "first")
        for path in (tmp_path / "first").glob("*.yaml"):
            match = re.search(r"\$schema=(\S+)", path.read_text("utf-8").split("\n")[0])
            if match and "://" not in match[1]:
                assert (path.parent / match[1]).exists()


@pytest.mark.parametrize("rule_id", reader.known())
def test_a_rule_set_says_what_it_asks_and_where_that_was_read(zonecfg, rule_id):
    """Every figure of the file is told, and a second-hand reading is said to be one."""
    rule = reader.rule_set(rule_id)
    done = zonecfg("explain", rule_id)
    words = " ".join(done.out.split())
    assert done.status == 0
    assert rule.edition in words
    assert rule.source in words
    second_hand = rule.read == "secondary" or "(read second-hand)" in words
    assert ("open the standard before relying on them" in words) == second_hand
    for clause in getattr(rule, "clauses", ()):
        asked = {name for name in clause.secondary if getattr(clause.asks, name, None) not in (None, False)}
        assert words.count("(read second-hand)") >= len(asked)
    assert rule_id in zonecfg("explain").out


def test_every_schema_that_is_shipped_can_be_printed(zonecfg):
    import json

    from zonecfg.schema import folder

    kinds = [path.name.removesuffix(".schema.json") for path in folder().glob("*.schema.json")]
    assert len(kinds) >= 12
    for kind in kinds:
        assert json.loads(zonecfg("schema", kind).out)["$schema"].endswith("2020-12/schema")
    done = zonecfg("schema", "sites")
    assert done.status == 2
    assert "did you mean" in done.err or "nearest" in done.err
