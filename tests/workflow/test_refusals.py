"""What a command cannot take is refused with status 2, by name, with what would do, and nothing is written."""

import shutil
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
DESIGN, BUILT, COPY, TYPES = "as-designed.yaml", "as-commissioned.yaml", "saved/2026-05-14.yaml", "equipment.yaml"
FOUND = "site-work/found.csv"
SHEET = "site-work/2026-05-14.csv"
TWO = "../two-controllers/copy.yaml"

REFUSED = {
    "match, a folder": (["match", ".", FOUND], "name one site file"),
    "match, a catalogue": (["match", TYPES, FOUND], "name one site file"),
    "match, a saved copy": (["match", COPY, FOUND], "is a saved copy; match needs the whole plant"),
    "match, a plan with faults": (["match", "faulty.yaml", FOUND], "faulty.yaml:3: roms is no section of a plan"),
    "match, no list": (["match", DESIGN, "none.csv"], "none.csv: No such file"),
    "match, a list that is no text": (["match", DESIGN, "latin.csv"], "not UTF-8"),
    "match, a list that is no table": (["match", DESIGN, "quote.csv"], "not CSV near row"),
    "compare, a folder": (["compare", ".", BUILT], "name one site file"),
    "compare, a plan with faults": (["compare", "faulty.yaml", BUILT], "check tells all of them"),
    "rehearse, a folder": (["rehearse", ".", "--wet", "R-1@1..2"], "name one site file"),
    "rehearse, no weather": (["rehearse", DESIGN], "name some weather"),
    "rehearse, open beyond open": (["rehearse", DESIGN, "--fire", "2", "--start-open", "101"], "cannot stand 101 % open"),
    "rehearse, a saved copy": (["rehearse", COPY, "--fire", "2"], "a rehearsal needs the whole plant"),
    "rehearse, a picture of another kind": (["rehearse", DESIGN, "--fire", "2", "-o", "p.png"], "ends in .svg"),
    "rollback, a folder": (["rollback", ".", "--to", COPY], "name one site file"),
    "rollback, from a copy": (["rollback", COPY, "--to", COPY], "an as-commissioned or as-designed file is needed"),
    "rollback, to a plan": (["rollback", BUILT, "--to", DESIGN], "a saved copy (state: saved) is needed"),
    "rollback, to another site": (["rollback", BUILT, "--to", TWO], "not the same site"),
    "rollback, to a plan of another site": (["rollback", BUILT, "--to", COPY, "--design", "two/as-designed.yaml"],
                                           "is a plan of Old Granary"),
    "check, an answer over a plan": (["check", DESIGN, "--output", f"json={DESIGN}", "--force"], "a plan's name"),
    "record, over the sheet": (["record", DESIGN, SHEET, "-o", SHEET, "--force"], "is read by this command"),
    "record, over a catalogue": (["record", DESIGN, SHEET, "-o", TYPES, "--force"], "is read by this command"),
    "identify, over the list": (["identify", DESIGN, FOUND, "-o", FOUND, "--force"], "is read by this command"),
    "rollback, minutes that are none": (["rollback", BUILT, "--to", COPY, "--minutes", "list.json"], "one JSON object"),
    "rollback, minutes of nothing": (["rollback", BUILT, "--to", COPY, "--minutes", "other.json"], "no kind of step"),
    "rollback, minutes below none": (["rollback", BUILT, "--to", COPY, "--minutes", "less.json"], "0 is the least"),
    "worksheet, a catalogue": (["worksheet", TYPES, "-o", "new.csv"], "a catalogue has no actuators"),
    "worksheet, a saved copy": (["worksheet", COPY, "-o", "new.csv"], "holds settings only; name the plan"),
    "worksheet, two plans": (["worksheet", "two", "-o", "new.csv"], "name one of two/as-designed.yaml and two/b.yaml"),
    "figures, two plans": (["figures", "two"], "name one of two/as-designed.yaml and two/b.yaml"),
    "review, a file": (["review", DESIGN], "review takes a site folder; check takes a file"),
    "review, two plans": (["review", "two"], "are all as-designed; review takes the folder of one site"),
}  # fmt: skip


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("sites")
    (folder / ".git").mkdir()
    home = folder / "larkenby-hall"
    shutil.copytree(EXAMPLES / "larkenby-hall", home)
    shutil.copytree(EXAMPLES / "rollback" / "two-controllers", folder / "two-controllers")
    plan = "format: zonecfg-site/1\nstate: as-designed\n"
    (home / "faulty.yaml").write_text(plan + "roms: {}\nsite: {name: Old Granary}\n", "utf-8")
    (home / "two").mkdir()
    for name in ("as-designed.yaml", "b.yaml"):
        (home / "two" / name).write_text(plan + "site: {name: Old Granary}\n", "utf-8")
    (home / "latin.csv").write_bytes("serial\nKüche\n".encode("latin-1"))
    (home / "quote.csv").write_text('serial\n"1"2\n', "utf-8")
    (home / "list.json").write_text("[]", "utf-8")
    (home / "other.json").write_text('{"tea": 5}', "utf-8")
    (home / "less.json").write_text('{"walk-test": -1}', "utf-8")
    return home


@pytest.mark.parametrize(("arguments", "words"), REFUSED.values(), ids=REFUSED)
def test_refused(zonecfg, house, monkeypatch, arguments, words):
    monkeypatch.chdir(house)
    before = sorted(Path().rglob("*"))
    done = zonecfg(*arguments)
    assert (done.status, done.out) == (2, "")
    assert words in done.err
    assert sorted(Path().rglob("*")) == before
