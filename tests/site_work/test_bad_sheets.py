"""Every sheet that cannot be taken: one line that names sheet, row and column, and nothing written."""

import io
import json
import zipfile

import pytest

WRONG = {
    "two serials alike": ({("actuators", "A-011"): {"serial": "7"}, ("actuators", "A-012"): {"serial": "7"}},
                          ["column serial", "7 is the serial of A-011 too"]),
    "other unit": ({("actuators", "A-011"): {"measured_stroke_mm": "11.8 cm"}}, ["measured_stroke_mm", "asked in mm"]),
    "ambiguous comma": ({("actuators", "A-011"): {"measured_stroke_mm": "1,200"}}, ["could be two numbers"]),
    "no number": ({("actuators", "A-011"): {"measured_gap_mm": "wide"}}, ["measured_gap_mm", "wide is no number"]),
    "not finite": ({("actuators", "A-011"): {"measured_gap_mm": "nan"}}, ["nan is no number"]),
    "too large": ({("actuators", "A-011"): {"measured_stroke_mm": "9000"}}, ["9000 mm is more than 5000"]),
    "negative": ({("controllers", "C-1"): {"actuators_counted": "-1"}}, ["-1 is less than 0"]),
    "no whole number": ({("controllers", "C-1"): {"actuators_counted": "3.5"}}, ["3.5 is no whole number"]),
    "date with slashes": ({("actuators", "A-011"): {"date": "04/05/2026"}}, ["column date", "write it as 2026-05-14"]),
    "date with a word": ({("actuators", "A-011"): {"date": "4 May 2026"}}, ["write it as 2026-05-14"]),
    "no such day": ({("actuators", "A-011"): {"date": "2026-02-30"}}, ["2026-02-30 is no day of the calendar"]),
    "serial as a number": ({("actuators", "A-011"): {"serial": "7.0042E+07"}}, ["column serial", "format the column as text"]),
    "serial with a decimal": ({("actuators", "A-011"): {"serial": "70042011.0"}}, ["column serial", "took the serial for a number"]),
    "formula": ({("actuators", "A-011"): {"by": '=HYPERLINK("http://x")'}}, ["column by", "holds a formula"]),
    "hidden sign": ({("actuators", "A-011"): {"serial": "7\n8"}}, ["line break"]),
    "word": ({("groups", "foyer-porch"): {"walk_test": "ok"}}, ["ok is none of pass and fail"]),
    "flag": ({("actuators", "A-011"): {"calibrated": "2"}}, ["2 is neither yes nor no"]),
    "of another table": ({("actuators", "A-011"): {"wet_test": "pass"}}, ["column wet_test: belongs to sensors"]),
    "moved opening": ({("actuators", "A-011"): {"opening": "W-012"}}, ["A-011 is on W-012 here and on W-011 in the plan"]),
    "unknown thing": ({("actuators", "A-011"): {"id": "A-11"}}, ["A-11 is none of the plan's actuators", "A-111 is the nearest"]),
    "same thing twice": ({("actuators", "A-011"): {"id": "A-012", "opening": "W-012"}}, ["A-012", "already"]),
    "unknown section": ({("actuators", "A-011"): {"section": "actuator"}}, ["column section"]),
    "another site": ({("sheet", "zonecfg-worksheet/1"): {"site": "ZZZ-9"}}, ["is a sheet of ZZZ-9", "LKH-2207"]),
    "another revision": ({("sheet", "zonecfg-worksheet/1"): {"revision": "B"}}, ["is of revision B", "at C"]),
    "another format": ({("sheet", "zonecfg-worksheet/1"): {"id": "zonecfg-worksheet/7"}}, ["zonecfg-worksheet/7"]),
    "long cell": ({("actuators", "A-011"): {"by": "x" * 3000}}, ["column by", "3000 characters"]),
}  # fmt: skip


def refused(zonecfg, site, sheet, *words):
    done = zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml")
    assert done.status == 2, done.out
    assert done.err.count("\n") == 1
    assert sheet.name in done.err
    for word in words:
        assert word in done.err
    assert "internal failure" not in done.err
    assert [path.name for path in sorted(site.iterdir())] == ["as-designed.yaml", "equipment.yaml"]


@pytest.mark.parametrize(("values", "words"), WRONG.values(), ids=WRONG)
def test_wrong_cells(site, fill, zonecfg, values, words):
    refused(zonecfg, site, fill(values), *words, *([] if ("sheet", "zonecfg-worksheet/1") in values else ["row "]))


@pytest.mark.parametrize(
    ("written", "value"),
    [("118 mm", 118), ("118mm", 118), ("118,5", 118.5), ("118.25", 118.25), ("118.0", 118)],
)
def test_numbers_as_people_write_them(site, fill, zonecfg, written, value):
    sheet = fill({("actuators", "A-109"): {"measured_stroke_mm": written}})
    assert zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml").status == 0
    assert f"A-109: {{measured_stroke_mm: {value}}}" in (site / "as-commissioned.yaml").read_text("utf-8")


@pytest.mark.parametrize("written", ["2026-05-14", "14.05.2026", "14.5.2026", "2026-5-14"])
def test_days_that_can_be_read_one_way(site, fill, zonecfg, written):
    sheet = fill({("actuators", "A-109"): {"date": written}})
    assert zonecfg("record", site, sheet, "-o", site / "as-commissioned.yaml").status == 0
    assert "A-109: {date: 2026-05-14}" in (site / "as-commissioned.yaml").read_text("utf-8")


@pytest.mark.parametrize("separator", [";", "\t"])
def test_separators_of_other_countries(site, fill, zonecfg, separator):
    import csv

    path = fill({("actuators", "A-109"): {"measured_gap_mm": "118,5"}})
    rows = list(csv.reader(path.read_text("utf-8").splitlines()))
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        csv.writer(file, delimiter=separator).writerows(rows)
    assert zonecfg("record", site, path, "-o", site / "as-commissioned.yaml").status == 0


def test_wrong_columns(site, fill, zonecfg):
    path = fill({})
    text = path.read_text("utf-8")
    path.write_text(text.replace(",walk_test", ",walktest", 1), "utf-8")
    refused(zonecfg, site, path, "row 1", "walktest is no column", "walk_test is the nearest known")
    path.write_text(text.replace(",by,", ",date,", 1), "utf-8")
    refused(zonecfg, site, path, "row 1", "the column by is missing")


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"", ["missing"]),
        (b"\xff\xfes\0e\0c\0", ["UTF-16"]),
        (b"section,id\nactuators,A-\xe9", ["row 2", "UTF-8"]),
        (b'section,id\n"open', ["not CSV"]),
        (b"section,id\nA\x00B,1", ["row"]),
        (b"x" * 20_000_001, ["20,000,000 bytes"]),
    ],
    ids=["empty", "utf-16", "latin-1", "open quote", "nul", "too large"],
)
def test_broken_csv(site, zonecfg, tmp_path, raw, words):
    path = tmp_path / "s.csv"
    path.write_bytes(raw)
    refused(zonecfg, site, path, *words)


EXPORT = {"format": "zonecfg-worksheet/1", "site": "LKH-2207", "revision": "C"}
TWICE = (
    '{"format": "zonecfg-worksheet/1", "site": "LKH-2207", "revision": "C", "entries": {"groups": {}, "groups": {}}}'
)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("not json", ["line 1, column 1"]),
        ("[" * 200_000, ["nested"]),
        ("[]", ["no export"]),
        (TWICE, ["groups", "twice"]),
        (json.dumps({**EXPORT, "entries": {"actuator": {}}}), ["actuator", "actuators"]),
        (json.dumps({**EXPORT, "entries": {"actuators": {"A-011": {"stroke_mm": "1"}}}}), ["row A-011", "stroke_mm"]),
        (json.dumps({**EXPORT, "entries": {"actuators": {"A-011": {"serial": None}}}}), ["row A-011, column serial"]),
        (json.dumps({**EXPORT, "entries": {"actuators": {"A-011": {"serial": {}}}}}), ["row A-011, column serial"]),
        (json.dumps({**EXPORT, "entries": {"actuators": {"A-999": {"serial": "1"}}}}), ["A-999 is none of"]),
        (json.dumps({**EXPORT, "entries": {"actuators": {"A-011": {"measured_gap_mm": True}}}}), ["True is no number"]),
        (json.dumps({**EXPORT, "entries": {"actuators": {"A-011": {"serial": 1.5}}}}), ["1.5 is no text"]),
        (json.dumps({**EXPORT, "entries": {}, "more": 1}), ["more"]),
        (json.dumps({**EXPORT, "site": "Z", "entries": {}}), ["sheet of Z"]),
        (json.dumps({"entries": {}}), ["format: is missing"]),
        ('{"format": NaN}', ["NaN"]),
        ('{"format": ' + "9" * 5000 + "}", ["too many digits"]),
    ],
)
def test_edited_exports(site, zonecfg, tmp_path, text, words):
    path = tmp_path / "e.json"
    path.write_text(text, "utf-8")
    refused(zonecfg, site, path, *words)


def test_a_saved_page_is_no_export(site, zonecfg, tmp_path):
    path = tmp_path / "page.html"
    path.write_text("<html>", "utf-8")
    refused(zonecfg, site, path, "press Export")


@pytest.fixture
def book(site, zonecfg, tmp_path):
    """Give a function that makes a workbook with parts changed: ``book({"xl/worksheets/sheet2.xml": change})``."""
    assert zonecfg("worksheet", site, "-o", tmp_path / "blank.xlsx").status == 0

    def made(changes=None, more=()):
        path = tmp_path / "s.xlsx"
        with zipfile.ZipFile(tmp_path / "blank.xlsx") as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
            for info in old.infolist():
                raw = old.read(info)
                change = (changes or {}).get(info.filename)
                new.writestr(info.filename, raw if change is None else change(raw))
            for name, raw in more:
                new.writestr(name, raw)
        return path

    return made


ACTUATORS = "xl/worksheets/sheet2.xml"


def test_formulas_in_cells(site, zonecfg, book):
    import re

    path = book({ACTUATORS: lambda raw: re.sub(rb'<c r="N7"[^>]*/>', b'<c r="N7"><f>1+1</f><v>2</v></c>', raw)})
    refused(zonecfg, site, path, "Actuators, row 7, column N (Measured stroke, mm)", "holds a formula")


def test_zip_bombs(site, zonecfg, book):
    refused(zonecfg, site, book(more=[("xl/media/x.bin", b"\0" * 70_000_000)]), "unpacks to", "64,000,000")
    path = book(more=[("xl/media/x.bin", b"\0" * 5_000_000)])
    raw = bytearray(path.read_bytes())
    at = raw.rindex(b"xl/media/x.bin") - 46 + 24  # the size in the directory
    raw[at : at + 4] = (10).to_bytes(4, "little")
    path.write_bytes(bytes(raw))
    refused(zonecfg, site, path, "damaged")
    refused(zonecfg, site, book(more=[(f"x/{n}", b"") for n in range(2001)]), "parts")


def test_far_away_cells_and_entities(site, zonecfg, book):
    def far(raw):
        return raw.replace(b"</sheetData>", b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>')

    refused(zonecfg, site, book({ACTUATORS: far}), "at most 200,000 rows")

    def laughing(raw):
        return raw.replace(b"<worksheet", b'<!DOCTYPE x [<!ENTITY a "aaaa">]><worksheet', 1)

    refused(zonecfg, site, book({ACTUATORS: laughing}), "entities")
    refused(zonecfg, site, book({ACTUATORS: lambda raw: raw[: len(raw) // 2]}), "not XML")


def test_what_is_no_workbook(site, zonecfg, tmp_path, book):
    path = tmp_path / "s.xlsx"
    path.write_bytes(b"PK\x03\x04 and nothing more")
    refused(zonecfg, site, path, "no .xlsx workbook")
    blank = io.BytesIO()
    with zipfile.ZipFile(blank, "w") as archive:
        archive.writestr("content.xml", "<x/>")
    path.write_bytes(blank.getvalue())
    refused(zonecfg, site, path, "no .xlsx workbook")


def test_numbers_where_labels_belong(site, zonecfg, tmp_path):
    from openpyxl import load_workbook

    assert zonecfg("worksheet", site, "-o", tmp_path / "s.xlsx").status == 0
    for value, words in ((70041979, None), (2.1, "has lost signs"), (7004197900000000000, "has lost signs")):
        book = load_workbook(tmp_path / "s.xlsx")
        cell = book["Actuators"]["M3"]
        assert book["Actuators"]["M2"].value == "Serial"
        cell.value, cell.number_format = value, "General"
        path = tmp_path / "n.xlsx"
        book.save(path)
        if words:
            refused(zonecfg, site, path, "Actuators, row 3, column M (Serial)", words)
        else:
            assert zonecfg("record", site, path, "-o", site / "as-commissioned.yaml").status == 0
            assert f'serial: "{value}"' in (site / "as-commissioned.yaml").read_text("utf-8")
            (site / "as-commissioned.yaml").unlink()


@pytest.mark.parametrize("method", [zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_member_whose_packing_is_damaged(site, zonecfg, book, method, tmp_path):
    """Found by attack.py: what unpacks a member has errors of its own."""
    path = tmp_path / "damaged.xlsx"
    with zipfile.ZipFile(book()) as old, zipfile.ZipFile(path, "w", method) as new:
        for name in old.namelist():
            new.writestr(name, old.read(name))
    raw = bytearray(path.read_bytes())
    for at in range(80, len(raw) - 4000, 97):
        raw[at] ^= 0x55
    path.write_bytes(bytes(raw))
    refused(zonecfg, site, path, "damaged")


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        (b"Ctrue1", "Ctrue1 is no cell"),
        (b"a1", "a1 is no cell"),
        (b"$A$1", "is no cell"),
        (b"A99999999999", "is no cell"),
        (b"", "is no cell"),
        (b"XFD3", "200 columns"),
        (b"A900000", "200,000 rows"),
        (b"ER150000", "4,000,000 cells"),
    ],
)
def test_cells_far_away(site, zonecfg, book, cell, said):
    """Found by attack.py: what reads the sheet makes room for every cell from the first to the last."""

    def change(raw):
        return raw.replace(b"</sheetData>", b'<row><c r="' + cell + b'"><v>1</v></c></row></sheetData>')

    refused(zonecfg, site, book({ACTUATORS: change}), said)


def test_a_row_without_a_number(site, zonecfg, book):
    path = book({ACTUATORS: lambda raw: raw.replace(b"</sheetData>", b'<row r="1e9"/></sheetData>')})
    refused(zonecfg, site, path, "1e9 is no number of a row")


def test_an_encoding_that_nobody_knows(site, zonecfg, book):
    """Found by attack.py."""
    path = book({ACTUATORS: lambda raw: raw.replace(b'encoding="UTF-8"', b'encoding="UT-8"')})
    refused(zonecfg, site, path, "is not XML", "UT-8")
