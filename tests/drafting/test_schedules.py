"""Schedules with known truth, in the conventions people write them in: every value right or listed, none wrong.

The writers are csv, openpyxl and by hand; what is read back is read by PyYAML and ruamel.yaml as well.
"""

from __future__ import annotations

import csv
import io
import random
from datetime import date

import openpyxl
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from zonecfg.drafting.schedule import DraftOptions, understand
from zonecfg.drafting.sizes import length, pair
from zonecfg.drafting.table import sheets
from zonecfg.errors import Undecided, UnreadableSheet, ZonecfgError
from zonecfg.workflow.check import check
from zonecfg.workflow.draft import draft

HINGES = {
    "top-hung": ["Top hung", "TOP-HUNG", "TH", "awning"],
    "bottom-hung": ["bottom hung", "Hopper", "BH"],
    "side-hung": ["Casement", "side hung"],
    "centre-pivot": ["Centre pivot", "CP"],
}
COMPASS = {"N": 0, "North": 0, "SE": 135, "south-west": 225, "180°": 180, "W": 270}


def as_csv(rows, separator=","):
    text = io.StringIO()
    csv.writer(text, delimiter=separator).writerows(rows)
    return text.getvalue().encode()


def read(rows, options=DraftOptions(), *, separator=","):  # noqa: B008
    return understand(sheets(as_csv(rows, separator), "s.csv"), "s.csv", options)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1200", 1200), ("1200 mm", 1200), ("1200mm", 1200), ("120 cm", 1200), ("1.2 m", 1200), ("1,2 m", 1200),
        ('48"', 1219.2), ("48 in", 1219.2), ("4'", 1219.2), ("3'-11 1/4\"", 1200.15), ('48 1/2"', 1231.9), ("3' 6\"", 1066.8),
        ("3′-6″", 1066.8),
    ],
)  # fmt: skip
def test_a_length(text, mm):
    """An inch is 25.4 mm, a foot twelve of them."""
    assert length(text).in_mm("mm") == pytest.approx(mm, abs=0.01)


@pytest.mark.parametrize("text", ["", "-", "tbc", "1200 x 700", "12 ft 3 m", '1/0"', "n/a", "…"])
def test_what_is_no_length(text):
    assert length(text) is None


@pytest.mark.parametrize(
    ("text", "order"),
    [("1200 x 700", None), ("1200x700", None), ("700H x 1200W", "hw"), ("W1200 × H700", "wh"), ("1.2 by 0.7 m", None)],
)
def test_two_sizes(text, order):
    two = pair(text)
    assert two is not None
    assert two.order == order


def convention(chance, rows):
    """Write true windows in a convention drawn by lot; give header, rows and the options that a person would say."""
    unit = chance.choice(["mm", "cm", "m", "in"])
    factor = {"mm": 1, "cm": 10, "m": 1000, "in": 25.4}[unit]
    said = chance.choice(["header", "cell", "option"])
    one_cell = chance.random() < 0.4
    order = chance.choice(["width-height", "height-width"])
    options = {"unit": unit} if said == "option" else {}

    def size(mm):
        number = f"{mm / factor:.6g}"
        return f"{number} {unit}" if said == "cell" else number

    suffix = f" ({unit})" if said == "header" else ""
    header = ["Mark", "Room No.", "Operation", "Orientation", f"Sill Ht{suffix}"]
    header += [f"Size{suffix}"] if one_cell else [f"Width{suffix}", f"HEIGHT{suffix}"]
    if one_cell:
        options["size_order"] = order
    told = []
    for window in rows:
        sizes = [size(window["width_mm"]), size(window["height_mm"])]
        if one_cell:
            first, second = sizes if order == "width-height" else sizes[::-1]
            sizes = [f"{first} x {second}"]
        told.append(
            [window["id"], window["room"], window["hinge_word"], window["facade_word"], size(window["sill_mm"]), *sizes]
        )
    return [["Some building", "", ""], header, *told], DraftOptions(**options)


def truth(chance, count):
    found = []
    for number in range(count):
        hinge = chance.choice(list(HINGES))
        facade = chance.choice(list(COMPASS))
        found.append(
            {
                "id": f"W-{number:03}", "room": chance.choice(["Hall", "Room 2", "Büro 3"]), "hinge": hinge,
                "hinge_word": chance.choice(HINGES[hinge]), "facade_word": facade, "facade_deg": COMPASS[facade],
                "width_mm": 25.4 * chance.randint(20, 80), "height_mm": 25.4 * chance.randint(20, 80),
                "sill_mm": 25.4 * chance.randint(13, 60),
            }
        )  # fmt: skip
    return found


@settings(max_examples=60)
@given(st.integers(0, 10_000))
def test_every_value_is_right_in_every_convention(seed):
    chance = random.Random(seed)
    windows = truth(chance, chance.randint(1, 12))
    rows, options = convention(chance, windows)
    answer = read(rows, options, separator=chance.choice(",;\t"))
    assert [window.id for window in answer.windows] == [window["id"] for window in windows]
    for window, true in zip(answer.windows, windows, strict=True):
        for field in ("hinge", "facade_deg", "room"):
            assert window.fields[field].value == true[field]
        for field in ("width_mm", "height_mm", "sill_mm"):
            assert window.fields[field].value == pytest.approx(true[field], abs=0.1)


HEAD = ["Mark", "Room", "Width", "Height", "Operation"]


@pytest.mark.parametrize(
    ("rows", "option"),
    [
        ([["Mark", "Room", "Size"], ["A", "r", "1200 x 700"]], "--size-order"),
        ([HEAD, ["A", "r", "1,200", "1,100", ""]], "--unit"),
        ([HEAD, ["A", "r", "48", "36", ""]], "--unit"),
        ([HEAD, ["A", "r", "5", "900", ""]], "--unit"),
        ([["Mark", "Width", "Height"], ["A", "900", "900"]], "--room"),
    ],
)
def test_what_is_not_said_is_asked_for(rows, option):
    with pytest.raises(Undecided, match=option):
        read(rows)


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([HEAD, ["A", "r", "900", "900", ""], ["A", "r", "900", "900", ""]], "rows 2 and 3"),
        ([["a", "b"], ["c", "d"]], "header"),
        ([HEAD, ["A", "r", "900", "900", "fixed"]], "opens"),
        ([[*HEAD, "Count"], ["A", "r", "900", "900", "TH", "0"]], "count"),
        ([HEAD, ["A", "r", "900", "900", ""], HEAD, ["B", "r", "900", "900", ""]], "second header"),
    ],
)
def test_what_cannot_be_is_refused_with_its_row(rows, words):
    with pytest.raises(UnreadableSheet, match=words):
        read(rows)


def test_ambiguous_words_stay_blank_and_are_listed():
    answer = read([HEAD, ["A", "r", "900", "900", "SH"], ["B", "r", "900", "900", "pivot"]])
    assert all("hinge" not in window.fields for window in answer.windows)
    assert answer.unread["hinge"] == ("SH (row 2)", "pivot (row 3)")


def test_glass_counts_without_the_gaps():
    rows = [[*HEAD, "Glazing"], ["A", "r", "900", "900", "TH", "6/16/6"], ["B", "r", "900", "900", "TH", "DGU"]]
    first, second = read(rows).windows
    assert first.fields["glass_mm"].value == 12
    assert "glass_mm" not in second.fields


def test_a_type_with_a_count_stands_for_as_many(tmp_path):
    (tmp_path / "s.csv").write_bytes(as_csv([[*HEAD, "Qty"], ["A", "r", "900", "900", "TH", "3"]]))
    answer = draft([tmp_path / "s.csv"], tmp_path / "out")
    assert answer.made == ("A-01", "A-02", "A-03")


def workbook(path, rows, title="Windows"):
    book = openpyxl.Workbook()
    book.active.title = title
    for row in rows:
        book.active.append(row)
    book.save(path)
    return path


@pytest.mark.parametrize("seed", range(6))
def test_a_workbook_says_what_the_csv_says_and_both_readers_of_yaml_read_the_plan_alike(tmp_path, seed):
    chance = random.Random(seed)
    rows, options = convention(chance, truth(chance, 20))
    (tmp_path / "s.csv").write_bytes(as_csv(rows))
    workbook(tmp_path / "s.xlsx", rows)
    one = draft([tmp_path / "s.csv"], tmp_path / "one", options, name="A")
    two = draft([tmp_path / "s.xlsx"], tmp_path / "two", options, name="A")
    assert (one.windows, one.missing, one.unread) == (two.windows, two.missing, two.unread)
    texts = [(tmp_path / name / "as-designed.yaml").read_text("utf-8") for name in ("one", "two")]
    assert texts[0] == texts[1].replace("s.xlsx", "s.csv")
    assert yaml.safe_load(texts[0]) == YAML(typ="safe", pure=True).load(texts[0])
    families = {f.check for f in check([tmp_path / "one"], date(2026, 11, 25)).findings.findings}
    assert not families & {
        "wrong-shape",
        "unknown-key",
        "unknown-reference",
        "unreadable-file",
        "ambiguous-word",
        "id-reused",
    }


def test_the_same_schedule_gives_the_same_bytes(tmp_path):
    rows, options = convention(random.Random(3), truth(random.Random(3), 30))
    (tmp_path / "s.csv").write_bytes(as_csv(rows))
    texts = set()
    for name in ("a", "b"):
        draft([tmp_path / "s.csv"], tmp_path / name, options, name="A")
        texts.add((tmp_path / name / "as-designed.yaml").read_bytes())
    assert len(texts) == 1


def test_every_line_says_where_it_is_from(tmp_path):
    (tmp_path / "s.csv").write_bytes(as_csv([HEAD, ["A", "r", "900", "1000", "TH"], ["B", "r", "800", "1000", ""]]))
    draft([tmp_path / "s.csv"], tmp_path / "out")
    lines = [
        line for line in (tmp_path / "out" / "as-designed.yaml").read_text("utf-8").splitlines() if "# row" in line
    ]
    assert len(lines) == 2
    assert 'row 2: width_mm "Width"' in lines[0]
    assert "missing: hinge, opens" in lines[1]


class TestNewerSchedule:
    def drafted(self, folder, rows):
        (folder / "s.csv").write_bytes(as_csv(rows))
        draft([folder / "s.csv"], folder, name="A")
        return folder / "as-designed.yaml"

    def test_what_it_says_goes_in_and_all_else_stays(self, tmp_path):
        rows = [
            HEAD,
            *(["A", "r", "900", "1000", "TH"], ["B", "r", "800", "1000", "TH"], ["C", "r", "700", "1000", "TH"]),
        ]
        path = self.drafted(tmp_path, rows)
        text = path.read_text("utf-8") + "\nactuators:\n  A-1: {opening: C}   # the designer's own\n"
        path.write_text(text.replace("rooms:", "# a note of the designer\nrooms:"), "utf-8")
        newer = [
            HEAD,
            ["A", "r", "950", "1000", "TH"],
            ["B", "hall", "800", "1000", "TH"],
            ["D", "r", "600", "1000", "TH"],
        ]
        (tmp_path / "s.csv").write_bytes(as_csv(newer))
        answer = draft([tmp_path / "s.csv"], tmp_path, update=path)
        assert [(told.kind, told.id) for told in answer.revised] == [
            ("resized", "A"), ("moved", "B"), ("added", "D"), ("conflict", "C"),
        ]  # fmt: skip
        after = path.read_text("utf-8")
        assert "# the designer's own" in after
        assert "# a note of the designer" in after
        held = yaml.safe_load(after)
        assert held["openings"]["A"]["width_mm"] == 950
        assert held["openings"]["B"]["room"] == "hall"
        assert set(held["openings"]) == {"A", "B", "C", "D"}

    def test_the_same_schedule_again_changes_nothing(self, tmp_path):
        rows, options = convention(random.Random(5), truth(random.Random(5), 12))
        (tmp_path / "s.csv").write_bytes(as_csv(rows))
        draft([tmp_path / "s.csv"], tmp_path, options, name="A")
        path = tmp_path / "as-designed.yaml"
        before = path.read_bytes()
        assert draft([tmp_path / "s.csv"], tmp_path, options, update=path).revised == ()
        assert path.read_bytes() == before


@pytest.mark.parametrize(
    "raw",
    [b"\xff\xfe\x00", b"", b"\0" * 100, "ö".encode("latin-1"), b'"', b"a\n" * 30_000, b"," * 3_000_000, b"PK\x03\x04"],
)
@pytest.mark.parametrize("kind", [".csv", ".xlsx", ".ods", ".txt"])
def test_what_is_no_schedule_is_one_clear_error(tmp_path, raw, kind):
    path = tmp_path / f"s{kind}"
    path.write_bytes(raw)
    with pytest.raises(ZonecfgError):
        draft([path], tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_formulas_are_not_computed(tmp_path):
    workbook(tmp_path / "s.xlsx", [HEAD, ["A", "r", "=900+1", 900, "TH"]])
    with pytest.raises(UnreadableSheet, match="formulas"):
        draft([tmp_path / "s.xlsx"], tmp_path / "out")


def test_words_that_could_be_yaml_stay_words(tmp_path):
    rows = [
        HEAD,
        ["A: {b", "no", "900", "1000", "TH"],
        ["2", "# r\n}", "900", "1000", "TH"],
        ["é ü", "null", "900", "1000", "TH"],
    ]
    (tmp_path / "s.csv").write_bytes(as_csv(rows))
    draft([tmp_path / "s.csv"], tmp_path / "out")
    held = yaml.safe_load((tmp_path / "out" / "as-designed.yaml").read_text("utf-8"))
    assert len(held["openings"]) == 3
    errors = [f for f in check([tmp_path / "out"], date(2026, 11, 25)).findings.findings if f.severity == "error"]
    assert errors == []


def test_at_the_command_line(zonecfg, tmp_path):
    (tmp_path / "s.csv").write_bytes(as_csv([HEAD, ["A", "r", "900", "1000", "TH"]]))
    done = zonecfg("draft", tmp_path / "s.csv", "-o", tmp_path / "out")
    assert (done.status, "1 window" in done.out) == (0, True)
    assert zonecfg("draft", tmp_path / "s.csv", "-o", tmp_path / "out").status == 2
    assert zonecfg("draft", tmp_path / "s.csv").status == 2
    assert zonecfg("draft", tmp_path / "s.csv", "-o", tmp_path / "two", "--format", "json").status == 0
