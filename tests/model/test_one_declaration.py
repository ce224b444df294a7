"""A field is said once: declared in this file alone, it is known wherever a plan is read, compared, merged or written."""

import json
from pathlib import Path
from typing import Annotated

import pytest
import yaml

from zonecfg.model import grammar, schemas
from zonecfg.model.building import Room
from zonecfg.model.fields import Part, refers, section
from zonecfg.model.plan import Plan
from zonecfg.schema import engine, files


class Watched(Room, frozen=True, kw_only=True):
    """A room with two fields that no other file of the project knows."""

    way_out: Annotated[str, refers("openings", "Way out of the room.", example="W-01", touches="safety")] | None = None
    watches: Annotated[tuple[str, ...], refers("openings", "Openings seen from it.", example=["W-01"])] | None = None


class WithWatched(Plan, frozen=True, kw_only=True):
    """The plan with them."""

    rooms: Annotated[dict[str, Watched], section("Rooms by id.", touches="air")] = {}


PLAN = """\
# The annex, for one rehearsal of the format.
format: zonecfg-site/1
state: as-designed
site: {name: Larkenby annex}
types:
  openings:
    vent: {hinge: top-hung, opens: outward, width_mm: 900, height_mm: 1000, stays: none, lock: none}
rooms:
  hall:
    watches:
      - W-01
      - W-02
    way_out: W-01
    name: Hall   # as people call it
openings:
  W-01: {type: vent, room: hall, sill_mm: 2600}
  W-02: {type: vent, room: hall, sill_mm: 900}
"""


@pytest.fixture(autouse=True)
def declared(monkeypatch, tmp_path_factory):
    """The declaration stands; the schemas are made of it as the committed ones are."""
    monkeypatch.setattr(grammar, "PLAN", WithWatched)
    folder = tmp_path_factory.mktemp("schemas")
    schemas.write_all(folder)
    monkeypatch.setattr(files, "folder", lambda: folder)
    for cached in (files.schema_of, engine.engine):
        cached.cache_clear()
    yield
    for cached in (files.schema_of, engine.engine):
        cached.cache_clear()


def plan(folder: Path, text: str, name: str = "as-designed.yaml") -> Path:
    path = folder / name
    path.write_text(text, "utf-8")
    return path


def changes(zonecfg, folder: Path, before: str, after: str) -> list[dict[str, object]]:
    done = zonecfg("compare", plan(folder, before, "a.yaml"), plan(folder, after, "b.yaml"), "--format", "json")
    assert done.status in (0, 1), done.err
    return json.loads(done.out)["changes"]


def test_it_stands_in_the_plan_and_is_no_unknown_key(zonecfg, tmp_path):
    found = json.loads(zonecfg("check", plan(tmp_path, PLAN), "--format", "json").out)["findings"]
    assert [f for f in found if f["severity"] == "error" and f["at"].startswith("/rooms")] == []


def test_it_is_judged_where_it_leads_nowhere(zonecfg, tmp_path):
    text = PLAN.replace("way_out: W-01", "way_out: W-10").replace("- W-02", "- W-20")
    found = json.loads(zonecfg("check", plan(tmp_path, text), "--format", "json").out)["findings"]
    told = {(f["at"], f["line"]) for f in found if f["check"] == "unknown-reference"}
    assert told == {("/rooms/hall/way_out", 13), ("/rooms/hall/watches/1", 12)}


def test_it_is_followed_in_a_rename(zonecfg, tmp_path):
    """The new id stands wherever the old one stood: one thing was renamed, and nothing else changed."""
    found = changes(zonecfg, tmp_path, PLAN, PLAN.replace("W-01", "W-11"))
    assert [(c["kind"], c["section"], c["before"], c["after"]) for c in found] == [
        ("renamed", "openings", "W-01", "W-11")
    ]


def test_it_speaks_against_a_rename_that_it_does_not_follow(zonecfg, tmp_path):
    after = PLAN.replace("W-01", "W-11").replace("way_out: W-11", "way_out: W-02")
    assert {c["kind"] for c in changes(zonecfg, tmp_path, PLAN, after)} == {"added", "removed", "changed"}


def test_a_change_of_it_is_classed(zonecfg, tmp_path):
    after = PLAN.replace("way_out: W-01", "way_out: W-02").replace("      - W-02\n", "")
    found = {c["field"]: c["consequence"] for c in changes(zonecfg, tmp_path, PLAN, after)}
    assert found == {"way_out": "safety", "watches": "air"}


def test_the_order_of_a_set_says_nothing(zonecfg, tmp_path):
    after = PLAN.replace("      - W-01\n      - W-02\n", "      - W-02\n      - W-01\n")
    assert changes(zonecfg, tmp_path, PLAN, after) == []


def test_it_is_merged_as_what_it_is(zonecfg, tmp_path):
    """Members that the sides added come together; of one id there can be no two."""
    more = PLAN + "  W-03: {type: vent, room: hall, sill_mm: 2600}\n  W-04: {type: vent, room: hall, sill_mm: 2600}\n"
    base = plan(tmp_path, more, "base.yaml")
    ours = plan(tmp_path, more.replace("- W-02\n", "- W-02\n      - W-03\n"), "ours.yaml")
    theirs = plan(tmp_path, more.replace("- W-02\n", "- W-02\n      - W-04\n"), "theirs.yaml")
    done = zonecfg("merge", base, ours, theirs, "-o", tmp_path / "merged.yaml")
    assert done.status == 0, done.err
    merged = yaml.safe_load((tmp_path / "merged.yaml").read_text("utf-8"))
    assert sorted(merged["rooms"]["hall"]["watches"]) == ["W-01", "W-02", "W-03", "W-04"]
    ours = plan(tmp_path, more.replace("way_out: W-01", "way_out: W-03"), "ours.yaml")
    theirs = plan(tmp_path, more.replace("way_out: W-01", "way_out: W-04"), "theirs.yaml")
    assert zonecfg("merge", base, ours, theirs, "-o", tmp_path / "merged.yaml", "--force").status == 1
    text = (tmp_path / "merged.yaml").read_text("utf-8")
    assert "<<<<<<<" in text
    assert "way_out: W-03" in text
    assert "way_out: W-04" in text


def test_it_is_written_in_its_place(zonecfg, tmp_path):
    """In the order of the declarations: what is inherited first, its comment with it."""
    path = plan(tmp_path, PLAN)
    assert zonecfg("format", path).status == 0
    text = path.read_text("utf-8")
    assert text.index("name: Hall   # as people call it") < text.index("way_out: W-01") < text.index("watches:")


def test_it_is_explained(zonecfg):
    out = zonecfg("explain", "rooms.way_out").out
    assert "Way out of the room." in out
    assert "way_out: W-01" in out


def test_a_plain_number_is_an_id_there(zonecfg, tmp_path):
    """As everywhere where a thing is named: 0070 keeps its zeros."""
    text = PLAN.replace("W-01", "0070")
    found = json.loads(zonecfg("check", plan(tmp_path, text), "--format", "json").out)["findings"]
    assert [f for f in found if f["check"] in ("unknown-reference", "wrong-shape")] == []


def test_the_declaration_is_of_this_file_alone():
    """No file of the package knows the fields, so that all of the above came from the declaration."""
    package = Path(grammar.__file__).parents[1]
    assert not [p for p in package.rglob("*.py") if "way_out" in p.read_text("utf-8")]
    assert issubclass(grammar.PLAN, Part)
