"""A filled sheet becomes the record: only what was measured changes, byte for byte."""

import difflib
import json
import re

import yaml

TESTED = {"serial": "70041979", "measured_stroke_mm": "198", "calibrated": "yes", "walk_test": "pass",
          "date": "2026-05-14", "by": "installer"}  # fmt: skip

RECORDED = (
    '{serial: "70041979", calibrated: true, walk_test: pass, measured_stroke_mm: 198, date: 2026-05-14, by: installer}'
)


def changed(before, after):
    """Lines taken out and put in."""
    diff = list(difflib.unified_diff(before.splitlines(True), after.splitlines(True), n=0))[2:]
    return [d[1:] for d in diff if d.startswith("-")], [d[1:] for d in diff if d.startswith("+")]


def test_only_what_was_measured_changes(site, fill, zonecfg):
    sheet = fill({
        ("actuators", "A-011"): TESTED,
        ("actuators", "A-107"): {"serial": "70049999"},
        ("groups", "workshop-west"): {"walk_test": "pass", "moved_after_s": "34"},
        ("sensors", "R-3"): {"serial": "0051", "wet_test": "fail"},
        ("controllers", "C-1"): {"actuators_counted": "30", "bus_ohm": "61.5"},
    })  # fmt: skip
    design = (site / "as-designed.yaml").read_bytes().decode()
    done = zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml")
    assert done.status == 0, done.err
    out, put = changed(design, (site / "as-commissioned.yaml").read_bytes().decode())
    assert out == [
        "state: as-designed\n",
        '  A-107: {type: chain-24-350, opening: W-107, stroke_mm: 250, serial: "70042154"}\n',
        "  R-3: {type: rain-plate}                           # on the roof mast, clear of every wall\n",
    ]
    assert put == [
        "state: as-commissioned\n",
        '  A-107: {type: chain-24-350, opening: W-107, stroke_mm: 250, serial: "70049999"}\n',
        '  R-3: {type: rain-plate, serial: "0051"}                           # on the roof mast, clear of every wall\n',
        "record:\n",
        "  controllers:\n",
        "    C-1: {actuators_counted: 30}\n",
        "  actuators:\n",
        f"    A-011: {RECORDED}\n",
        "  groups:\n",
        "    workshop-west: {walk_test: pass, moved_after_s: 34}\n",
        "  sensors:\n",
        "    R-3: {wet_test: fail}\n",
        "  buses:\n",
        "    C-1: {bus_ohm: 61.5}\n",
        "\n",
    ]
    assert design.encode() == (site / "as-designed.yaml").read_bytes()
    assert "C-1: counted 30 actuators; the plan gives it 31" in done.out
    assert "A-107: serial 70049999; the plan has 70042154" in done.out
    assert "R-3: wet test failed" in done.out
    assert "2 of 60 actuators" in done.out
    assert "Serial of 58 actuators" in done.out


def test_set_and_measured_stay_apart(site, fill, zonecfg):
    sheet = fill({("actuators", "A-107"): {"measured_stroke_mm": "181", "measured_gap_mm": "180,5"}})
    done = zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml")
    data = yaml.safe_load((site / "as-commissioned.yaml").read_text("utf-8"))
    assert data["actuators"]["A-107"]["stroke_mm"] == 250
    assert data["record"]["actuators"]["A-107"] == {"measured_stroke_mm": 181, "measured_gap_mm": 180.5}
    assert "A-107: measured stroke 181 mm; 250 mm is set" in done.out


def test_a_later_sheet_updates_the_record(site, fill, zonecfg):
    target = site / "as-commissioned.yaml"
    first = fill({("actuators", "A-011"): TESTED, ("actuators", "A-013"): {"walk_test": "pass"}})
    assert zonecfg("record", site, first, "-o", target).status == 0
    text = target.read_text("utf-8").replace("    A-013:", "    # behind the press\n    A-013:")
    target.write_text(text + "# last words", "utf-8")
    before = target.read_bytes().decode()
    second = fill({("actuators", "A-011"): {"measured_gap_mm": "199"}, ("actuators", "A-012"): {"calibrated": "no"},
                   ("sensors", "R-1"): {"serial": "9"}}, "second.csv")  # fmt: skip
    done = zonecfg("record", site / "as-designed.yaml", second, "-o", target)
    assert done.status == 0, done.err
    out, put = changed(before, target.read_bytes().decode())
    assert put[1] == out[1].replace("date: 2026", "measured_gap_mm: 199, date: 2026")
    assert put[2:] == ["    A-012: {calibrated: false}\n"]
    assert target.read_text("utf-8").endswith("# last words")
    again = target.read_bytes()
    assert zonecfg("record", site / "as-designed.yaml", second, "-o", target).out.count("0 of them new") == 1
    assert target.read_bytes() == again


def test_crlf_and_byte_order_mark_stay(site, fill, zonecfg):
    plan = site / "as-designed.yaml"
    plan.write_bytes(b"\xef\xbb\xbf" + plan.read_bytes().replace(b"\n", b"\r\n"))
    sheet = fill({("actuators", "A-011"): TESTED})
    assert zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml").status == 0
    raw = (site / "as-commissioned.yaml").read_bytes()
    assert raw.startswith(b"\xef\xbb\xbf")
    assert not re.search(rb"(?<!\r)\n", raw)


def test_the_record_passes_reading_and_holds_every_form_alike(site, fill, zonecfg, tmp_path):
    from openpyxl import load_workbook

    target = site / "as-commissioned.yaml"
    assert zonecfg("record", site, fill({("actuators", "A-011"): TESTED}), "-o", target).status == 0
    by_csv = target.read_bytes()
    assert zonecfg("worksheet", site / "as-designed.yaml", "-o", tmp_path / "s.xlsx").status == 0
    book = load_workbook(tmp_path / "s.xlsx")
    sheet = book["Actuators"]
    titles = {cell.value: cell.column for cell in sheet[2]}
    row = next(row for row in range(3, 70) if sheet.cell(row, 1).value == "A-011")
    for title, value in (("Serial", "70041979"), ("Measured stroke, mm", 198), ("Calibrated", "yes"),
                         ("Walk test", "pass"), ("Date", "2026-05-14"), ("By", "installer")):  # fmt: skip
        sheet.cell(row, titles[title]).value = value
    book.save(tmp_path / "s.xlsx")
    target.unlink()
    assert zonecfg("record", site, tmp_path / "s.xlsx", "-o", target).status == 0
    assert target.read_bytes() == by_csv
    export = {"format": "zonecfg-worksheet/1", "site": "LKH-2207", "revision": "C",
              "entries": {"actuators": {"A-011": TESTED}}}  # fmt: skip
    (tmp_path / "e.json").write_text(json.dumps(export), "utf-8")
    target.unlink()
    assert zonecfg("record", site, tmp_path / "e.json", "-o", target).status == 0
    assert target.read_bytes() == by_csv


def test_the_plan_is_never_overwritten(site, fill, zonecfg):
    sheet, plan = fill({("actuators", "A-011"): TESTED}), site / "as-designed.yaml"
    before = plan.read_bytes()
    for force in ((), ("--force",)):
        done = zonecfg("record", site, sheet, "-o", plan, *force)
        assert done.status == 2
        assert "is the plan itself" in done.err
    assert plan.read_bytes() == before


def test_what_stands_there_and_is_no_record_stays(site, fill, zonecfg):
    sheet, target = fill({("actuators", "A-011"): TESTED}), site / "as-commissioned.yaml"
    for standing in ("notes of mine\n", (site / "as-designed.yaml").read_text("utf-8"),
                     (site / "as-designed.yaml").read_text("utf-8").replace("state: as-designed", "state: as-commissioned")
                     .replace("LKH-2207", "ZZZ-1")):  # fmt: skip
        target.write_text(standing, "utf-8")
        done = zonecfg("record", site / "as-designed.yaml", sheet, "-o", target)
        assert done.status == 2
        assert target.read_text("utf-8") == standing
    assert zonecfg("record", site / "as-designed.yaml", sheet, "-o", target, "--force").status == 0


def test_a_record_elsewhere_must_find_its_catalogues(site, fill, zonecfg, tmp_path):
    done = zonecfg("record", site, fill({("actuators", "A-011"): TESTED}), "-o", tmp_path / "x.yaml")
    assert done.status == 2
    assert "equipment.yaml is not found from there" in done.err


def test_tests_of_two_actuators_are_not_mixed(site, fill, zonecfg):
    target = site / "as-commissioned.yaml"
    assert zonecfg("record", site, fill({("actuators", "A-011"): TESTED}), "-o", target).status == 0
    before = target.read_bytes()
    new = fill({("actuators", "A-011"): {"serial": "8", "walk_test": "pass"}}, "new.csv")
    done = zonecfg("record", site / "as-designed.yaml", new, "-o", target)
    assert done.status == 2
    assert "calibrated, measured_stroke_mm, date, by" in done.err
    assert target.read_bytes() == before
    swapped = fill({("actuators", "A-012"): {"serial": "70041979"}}, "swapped.csv")
    assert "70041979 was recorded at A-011" in zonecfg("record", site / "as-designed.yaml", swapped, "-o", target).err
    both = {("actuators", "A-012"): {"serial": "70041979"}, ("actuators", "A-011"): {"serial": "70041986"}}
    assert zonecfg("record", site / "as-designed.yaml", fill(both), "-o", target).status == 0


def test_a_sheet_of_an_older_revision(site, fill, zonecfg):
    sheet = fill({("actuators", "A-011"): TESTED})
    plan = site / "as-designed.yaml"
    plan.write_text(plan.read_text("utf-8").replace("revision: C", "revision: D"), "utf-8")
    done = zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml")
    assert done.status == 2
    assert "is of revision C; the plan is at D" in done.err
    assert zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml", "--any-revision").status == 0


def test_the_example_sheet(site, zonecfg):
    from pathlib import Path

    example = Path(__file__).parents[2] / "examples" / "larkenby-hall"
    sheet, target = example / "site-work" / "2026-05-14.csv", site / "as-commissioned.yaml"
    done = zonecfg("record", site, sheet, "-o", target)
    assert done.status == 0, done.err
    assert "46 of 60 actuators, 11 of 14 groups, 2 of 4 sensors and 1 of 2 controllers" in done.out
    assert (
        done.out.count("the plan or the calendar has it otherwise\n  A-107: measured stroke 181 mm; 250 mm is set\n\n")
        == 1
    )
    left = json.loads(zonecfg("check", target, "--format", "json").out)["findings"]
    assert [f["about"] for f in left if f["severity"] == "error"] == ["sensors/R-3", "sensors/WS-1"]


def test_answers_as_json_and_markdown(site, fill, zonecfg, tmp_path):
    from jsonschema import Draft202012Validator

    from zonecfg.schema import schema_of

    target, sheet = site / "as-commissioned.yaml", fill({("actuators", "A-011"): TESTED})
    written = json.loads(zonecfg("worksheet", site, "-o", tmp_path / "s.csv", "--format", "json").out)
    Draft202012Validator(schema_of("written")).validate(written)
    assert written["rows"] == {"actuators": 60, "groups": 14, "sensors": 4, "controllers": 2}
    recorded = json.loads(zonecfg("record", site, sheet, "-o", target, "--format", "json").out)
    Draft202012Validator(schema_of("record")).validate(recorded)
    assert (recorded["values"], recorded["new"], recorded["rows"]["actuators"]) == (
        6,
        5,
        [1, 60],
    )  # the plan had the serial
    plan = site / "as-designed.yaml"
    assert "\n- Serial of" in zonecfg("record", plan, sheet, "-o", target, "--format", "markdown").out


def test_a_format_that_does_not_fit_writes_nothing(site, fill, zonecfg, tmp_path):
    target, sheet = site / "as-commissioned.yaml", fill({("actuators", "A-011"): TESTED})
    for fmt in ("sarif", "yaml"):
        assert zonecfg("record", site, sheet, "-o", target, "--format", fmt).status == 2
        assert zonecfg("worksheet", site, "-o", tmp_path / "s.csv", "--format", fmt).status == 2
    assert not target.exists()
    assert not (tmp_path / "s.csv").exists()


def test_a_serial_that_the_plan_has_elsewhere_is_shown(site, fill, zonecfg):
    """Recorded as it was read, and told: one of the two is misread, or they were swapped."""
    plan = site / "as-designed.yaml"
    text = plan.read_text("utf-8")
    line = next(x for x in text.splitlines() if x.lstrip().startswith("A-011:"))
    plan.write_text(text.replace(line, line[: line.index(", serial:")] + "}", 1), "utf-8")
    sheet = fill({("actuators", "A-011"): {"serial": "70041986"}})
    done = zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml")
    assert done.status == 0, done.err
    assert "A-011: serial 70041986; the plan has it for A-012" in " ".join(done.out.split())


def test_a_serial_may_look_like_a_power_of_ten(site, fill, zonecfg):
    """Spreadsheets write a sign into every exponent (ECMA-376, number format E+00); without one it is a label as it is."""
    sheet = fill({("actuators", "A-107"): {"serial": "12E4"}})
    done = zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml")
    assert done.status == 0, done.err
    written = yaml.safe_load((site / "as-commissioned.yaml").read_bytes())
    assert written["actuators"]["A-107"]["serial"] == "12E4"


def test_a_test_of_tomorrow_is_told(site, fill, zonecfg):
    sheet = fill({("actuators", "A-011"): TESTED})
    args = ("record", site, sheet, "-o", site / "as-commissioned.yaml", "--force")
    assert "and today is" not in zonecfg(*args, "--today", "2026-05-14").out
    assert "A-011: tested on 2026-05-14, and today is 2026-05-13" in zonecfg(*args, "--today", "2026-05-13").out


def test_a_test_nobody_stands_for_is_counted_among_the_blanks(site, fill, zonecfg):
    sheet = fill({("actuators", "A-011"): TESTED,
                  ("actuators", "A-012"): {"walk_test": "pass", "by": "installer"},
                  ("actuators", "A-013"): {"serial": "70041990"},
                  ("actuators", "A-014"): {"measured_gap_mm": "90"}})  # fmt: skip
    done = zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml")
    assert done.status == 0, done.err
    (told,) = [line.strip() for line in done.out.splitlines() if "Date or name" in line]
    assert told == "Date or name of the test of 2 actuators: A-012 and A-014"
