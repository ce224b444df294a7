"""``zonecfg migrate``: nothing to do today; the chain on formats made up for the purpose."""

import copy
from pathlib import Path

import pytest

from zonecfg.document.reader import read
from zonecfg.document.rewrite import rewritten, with_keys
from zonecfg.model.grammar import grammar
from zonecfg.results.pointer import join
from zonecfg.workflow.migrate import STEPS, migrate

OLD = """\
# a plan of long ago
format: zonecfg-site/0   # then
state: as-designed
site: {name: Mill Lane}

rooms:
  hall: {use: other}

openings:
  # the north side
  W-1: {room: hall, width: 90}   # as measured
  W-2:
    room: hall
    # with frame
    width: 120   # roughly
"""
NEW = (
    OLD.replace("zonecfg-site/0", "zonecfg-site/1").replace("width: 90", "width_mm: 900").replace("width: 120",
                                                                                                "width_mm: 1200")
)  # fmt: skip
OLDEST = OLD.replace("zonecfg-site/0", "zonecfg-site/00").replace("rooms:", "spaces:")


def centimetres_to_millimetres(document):
    """From 0 to 1: widths are in millimetres and say so."""
    data = copy.deepcopy(document.data)
    for fields in data.get("openings", {}).values():
        fields["width"] *= 10
    data["format"] = "zonecfg-site/1"
    text, _ = rewritten(document, data, as_text=grammar().as_written)
    again = read(text.encode(), document.file, grammar().as_written)
    return with_keys(again, {join("openings", key, "width"): "width_mm" for key in data.get("openings", {})})


def spaces_to_rooms(document):
    """From 00 to 0: another name for the section."""
    data = {**document.data, "format": "zonecfg-site/0"}
    text, _ = rewritten(document, data, as_text=grammar().as_written)
    again = read(text.encode(), document.file, grammar().as_written)
    return with_keys(again, {"/spaces": "rooms"})


CHAIN = {"zonecfg-site/0": centimetres_to_millimetres, "zonecfg-site/00": spaces_to_rooms}


@pytest.fixture
def plan(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return Path("as-designed.yaml")


@pytest.mark.parametrize("text", [OLD, OLDEST])
def test_a_chain_of_steps(plan, text):
    """Comments, order and style stay, and a second time there is nothing to do."""
    plan.write_text(text, "utf-8")
    assert migrate([plan], CHAIN) == (["as-designed.yaml"], 1)
    assert plan.read_text("utf-8") == NEW
    assert migrate([plan], CHAIN) == ([], 1)


def test_a_step_that_leads_in_a_circle_ends(plan):
    plan.write_text(OLD, "utf-8")
    with pytest.raises(Exception, match="its format is zonecfg-site/0"):
        migrate([plan], {"zonecfg-site/0": lambda document: document.places.text.decode()})
    assert plan.read_text("utf-8") == OLD


def test_today_there_is_nothing_older():
    assert dict(STEPS) == {}


def test_a_present_file_stays_byte_for_byte(zonecfg, plan):
    text = "format: zonecfg-site/1\nstate: as-designed\nsite:   {name: A}   # x\n"
    plan.write_text(text, "utf-8")
    done = zonecfg("migrate", plan)
    assert (done.status, done.out, done.err) == (0, "", "nothing to do: 1 file in the present format\n")
    assert plan.read_text("utf-8") == text


def test_a_catalogue_has_its_own_format(zonecfg, plan):
    Path("types.yaml").write_text("format: zonecfg-catalogue/1\ntypes: {}\n", "utf-8")
    assert zonecfg("migrate", "types.yaml").status == 0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("format: zonecfg-site/2\nstate: as-designed\n", "its format is zonecfg-site/2; this zonecfg reads zonecfg-site/1"),
        ("format: zonecfg-site/0\n", "its format is zonecfg-site/0; this zonecfg reads zonecfg-site/1"),
        ("state: as-designed\n", "it does not say its format"),
        ("format: [a]\n", "it does not say its format"),
        ("format: zonecfg-site/1\nrooms: [\n", "cannot be read on"),
        ("format: zonecfg-site/1\na: 1\na: 2\n", "a second time"),
        ('format: "zonecfg-site/\\e[31m"\n', "<U+001B>"),
    ],
)  # fmt: skip
def test_what_cannot_be_brought_on(zonecfg, plan, text, words):
    """One clear line, exit status 2, and no other file was touched."""
    plan.write_text(text, "utf-8")
    done = zonecfg("migrate", plan)
    assert (done.status, done.out, done.err.count("\n")) == (2, "", 1)
    assert words in done.err
    assert plan.read_text("utf-8") == text


def test_all_or_none(plan):
    plan.write_text(OLD, "utf-8")
    Path("as-commissioned.yaml").write_text("format: zonecfg-site/9\n", "utf-8")
    with pytest.raises(Exception, match="zonecfg-site/9"):
        migrate([Path()], CHAIN)
    assert plan.read_text("utf-8") == OLD
