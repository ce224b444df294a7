"""The examples under ``examples/rollback/``: what stands, a copy, and what each way comes to, written down by hand."""

from datetime import date
from pathlib import Path

import msgspec
import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from zonecfg.errors import CannotRead
from zonecfg.schema import schema_of
from zonecfg.workflow.rollback import rollback

ROOT = Path(__file__).parents[2] / "examples" / "rollback"
CASES = sorted(path.name for path in ROOT.iterdir())
TODAY = date(2026, 11, 25)


def ways_of(case):
    folder = ROOT / case
    design = folder / "design.yaml"
    return rollback(
        folder / "now.yaml", sorted(folder.glob("copy*.yaml")), TODAY, design=design if design.exists() else None
    ).ways


@pytest.mark.parametrize("case", CASES)
def test_ways_come_to_what_is_written_down(case):
    expected = YAML(typ="safe", pure=True).load((ROOT / case / "expected.yaml").read_text("utf-8"))
    answer = ways_of(case)
    found = {way.way: way for way in answer.ways}
    for kind, wanted in expected["ways"].items():
        way = found[kind]
        assert way.exposure.now == expected["uncovered_now"]
        assert way.exposure.after == wanted["uncovered_after"], kind
        assert sorted(change.id for change in way.lost) == sorted(wanted["lost"]), kind
        if "returns" in wanted:
            assert [change.id for change in way.returns] == wanted["returns"], kind
        if "introduced" in wanted:
            errors = {f.check for f in way.findings.introduced if f.severity == "error"}
            assert errors == set(wanted["introduced"]), kind
        if "steps" in wanted:
            assert [step.do for step in way.steps] == wanted["steps"], kind
        if "uncovered_at_step" in wanted:
            assert [step.uncovered for step in way.steps] == wanted["uncovered_at_step"], kind
        if "first" in wanted:
            assert way.first[0].startswith(wanted["first"])
        if "also_returns" in wanted:
            assert [also.what for also in way.also_returns] == wanted["also_returns"]
    places = {rank.way: rank.place for rank in answer.ranking}
    if "first_placed" in expected:
        assert {way for way, place in places.items() if place == 1} == set(expected["first_placed"])
    if "last_placed" in expected:
        assert answer.ranking[-1].way == expected["last_placed"]


@pytest.mark.parametrize("case", CASES)
def test_answer_fits_its_schema(case):
    data = msgspec.json.decode(msgspec.json.encode(ways_of(case)))
    Draft202012Validator(schema_of("rollback")).validate(data)


@pytest.mark.parametrize("case", CASES)
def test_ways_that_measures_cannot_tell_apart_say_so(case):
    answer = ways_of(case)
    by_place = {}
    for rank in answer.ranking:
        by_place.setdefault(rank.place, []).append(rank)
    for ranks in by_place.values():
        assert all(len(rank.equal_to) == len(ranks) - 1 for rank in ranks)
    assert answer.questions


def test_what_no_setting_brings_back_is_told_with_the_way_to_the_design(tmp_path):
    """By hand the settings return, the stroke that somebody shortened on site does not."""
    folder = ROOT / "replaced-actuator-of-a-pair"
    now = (folder / "now.yaml").read_text("utf-8")
    design = tmp_path / "design.yaml"
    design.write_text(
        now.replace("as-commissioned", "as-designed")
        .replace("W-2, stroke_mm: 300", "W-2, stroke_mm: 350")
        .replace("open_percent: 0", "open_percent: 10"),
        "utf-8",
    )
    answer = rollback(folder / "now.yaml", [folder / "copy.yaml"], TODAY, design=design).ways
    to_design, to_copy = (
        next(way for way in answer.ways if way.way == "by-hand" and way.target.endswith(name))
        for name in ("design.yaml", "copy.yaml")
    )
    assert [(change.id, change.field) for change in to_design.stays] == [("A-2", "stroke_mm")]
    assert [change.section for change in to_design.returns] == ["wet_weather"]
    reason = next(r.reason for r in answer.ranking if (r.way, r.target) == (to_design.way, to_design.target))
    assert "no setting brings back" in reason
    assert any("A-1b" in words for words in to_copy.warnings)


def test_a_copy_of_another_site_is_refused(tmp_path):
    folder = ROOT / CASES[0]
    other = tmp_path / "copy.yaml"
    other.write_text((folder / "copy.yaml").read_text("utf-8").replace("OG-31", "XX-1"), "utf-8")
    with pytest.raises(CannotRead, match="not the same site"):
        rollback(folder / "now.yaml", [other], TODAY)


def test_a_copy_with_serials_nobody_knows_is_refused(tmp_path):
    folder = ROOT / CASES[0]
    other = tmp_path / "copy.yaml"
    other.write_text((folder / "copy.yaml").read_text("utf-8").replace("6001", "7777"), "utf-8")
    with pytest.raises(CannotRead, match="none of its 4 serials"):
        rollback(folder / "now.yaml", [other], TODAY)


def test_what_is_no_copy_is_refused():
    folder = ROOT / CASES[0]
    with pytest.raises(CannotRead, match="a saved copy"):
        rollback(folder / "now.yaml", [folder / "now.yaml"], TODAY)


def test_own_minutes_count_and_unknown_ones_are_refused(tmp_path):
    folder = ROOT / CASES[0]
    own = tmp_path / "minutes.json"
    own.write_text('{"save-copy": 500}', "utf-8")
    (keep,) = (
        w
        for w in rollback(folder / "now.yaml", [folder / "copy.yaml"], TODAY, minutes=own).ways.ways
        if w.way == "keep"
    )
    assert keep.minutes >= 500
    own.write_text('{"sing": 5}', "utf-8")
    with pytest.raises(CannotRead, match="no kind of step"):
        rollback(folder / "now.yaml", [folder / "copy.yaml"], TODAY, minutes=own)


def test_two_controllers_each_with_a_copy_of_its_own(tmp_path):
    """Put back together they come to what both copies say; two copies of one controller are not put back together."""
    folder = ROOT / "two-controllers"
    now = (folder / "now.yaml").read_text("utf-8")
    first = (folder / "copy.yaml").read_text("utf-8")
    own = first.index("groups:"), first.index("sensors:")
    second = (
        first[: own[0]] + "groups:\n  annex:\n    controller: C-2\n    actuators:\n      - A-4\n\n" + first[own[1] :]
    )
    second = second.replace("    C-1: {}", "    C-2: {}").replace("links:\n  R-1:\n    - east\n\n", "links: {}\n\n")
    second = second.replace("wet_weather:\n  east: {open_percent: 0, when_dry: stay}\n\n", "wet_weather: {}\n\n")
    paths = [tmp_path / name for name in ("now.yaml", "c-1.yaml", "c-2.yaml", "again.yaml")]
    for path, text in zip(paths, (now, first, second, first), strict=True):
        path.write_text(text, "utf-8")
    answer = rollback(paths[0], paths[1:3], TODAY).ways
    both = {way.way: way for way in answer.ways if " and " in (way.target or "")}
    assert both.keys() == {"restore", "restore-then-mend"}
    groups = {name: sorted(group["actuators"]) for name, group in both["restore"].predicted["groups"].items()}
    assert groups == {"east": ["A-1", "A-2", "A-3"], "annex": ["A-4"]}
    (restored,) = (step for step in both["restore"].steps if step.do == "restore")
    assert all(name in restored.text for name in ("c-1.yaml", "c-2.yaml", "C-1", "C-2"))
    alone = [way for way in answer.ways if way.way == "restore" and " and " not in (way.target or "")]
    assert [len(way.predicted["groups"]["east"]["actuators"]) for way in alone] == [3, 2]
    again = rollback(paths[0], [paths[1], paths[3]], TODAY).ways
    assert not any(" and " in (way.target or "") for way in again.ways)
