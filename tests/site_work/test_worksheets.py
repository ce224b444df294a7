"""What goes to site, read back by others: openpyxl for the workbook, a plain CSV reader, a parser of HTML."""

import csv
import subprocess
import sys
import textwrap
import zipfile
from html.parser import HTMLParser

import pytest
from openpyxl import load_workbook

HOSTILE = ["=HYPERLINK(1)", "+1+1", "-1+1", "@SUM(A1)", "'=1", "<script>alert(1)</script>", '"><img src=x onerror=y>',
           "{{ 7*7 }}", "</script>"]  # fmt: skip


@pytest.fixture
def book(site, zonecfg, tmp_path):
    path = tmp_path / "sheet.xlsx"
    assert zonecfg("worksheet", site, "-o", path).out == (
        f"{path.as_posix()}: 60 actuators, 14 groups, 4 sensors and 2 controllers.\n"
    )
    return load_workbook(path)


def hostile_site(folder, words):
    """A plan whose every free word is hostile; its ids cannot be."""
    import json

    quoted = json.dumps(words)
    (folder / "as-designed.yaml").write_text(
        textwrap.dedent(f"""\
            format: zonecfg-site/1
            state: as-designed
            site: {{name: {quoted}, reference: {quoted}, revision: {quoted}}}
            rooms: {{r: {{name: {quoted}}}}}
            types:
              actuators: {{chain: {{kind: chain}}}}
            openings: {{W: {{room: r}}}}
            actuators: {{A: {{type: chain, opening: W, serial: {quoted}}}}}
            groups: {{G: {{name: {quoted}, actuators: [A]}}}}
            """),
        "utf-8",
    )
    (folder / "equipment.yaml").unlink(missing_ok=True)


def test_sheets_and_rows_in_walking_order(book):
    assert book.sheetnames == ["Read first", "Actuators", "Groups", "Sensors", "Controllers"]
    for sheet in book:
        assert [sheet.cell(1, column).value for column in (1, 2, 3)] == ["zonecfg-worksheet/1", "LKH-2207", "C"]
    sheet = book["Actuators"]
    titles = [cell.value for cell in sheet[2]]
    rows = [dict(zip(titles, (cell.value for cell in row), strict=True)) for row in sheet.iter_rows(min_row=3)]
    assert len(rows) == 60
    places = [(row["Storey"], row["Room"]) for row in rows]
    assert places == sorted(places)
    assert [row["Actuator"] for row in rows if row["Room"] == "Workshop"] == ["A-011", "A-012", "A-013", "A-014"]
    pair = next(row for row in rows if row["Actuator"] == "A-001a")
    assert pair == {
        **dict.fromkeys(titles), "Actuator": "A-001a", "Opening": "W-001", "Room": "Studio hall", "Storey": 0,
        "Faces": "180° S", "Hinge": "top-hung outward", "Stroke to set, mm": 300, "Gap it gives, mm": 300,
        "Sash moved by": "pair, with A-001b", "Group": "studio-south-west", "Cables": pair["Cables"],
        "Serial planned": "70041811",
    }  # fmt: skip
    controllers = list(book["Controllers"].iter_rows(min_row=3, max_col=5, values_only=True))
    assert [(row[0], row[3]) for row in controllers] == [("C-1", 31), ("C-2", 29)]
    assert all(58 < row[4] < 66 for row in controllers)


def test_locked_open_frozen_validated_and_ready_for_paper(book):
    sheet = book["Actuators"]
    assert sheet.protection.sheet
    assert sheet.freeze_panes == "B3"
    assert (sheet.page_setup.paperSize, sheet.page_setup.orientation) == (9, "landscape")
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.page_setup.fitToHeight == 0
    assert sheet.print_title_rows == "$2:$2"
    assert "Isolate mains and battery" in sheet.oddFooter.center.text
    open_columns = {sheet.cell(2, cell.column).value for cell in sheet[3] if not cell.protection.locked}
    assert open_columns == {
        "Serial", "Measured stroke, mm", "Measured gap, mm", "Voltage while moving, V", "Calibrated", "Walk test", "Date",
        "By",
    }  # fmt: skip
    rules = {str(rule.sqref): rule for rule in sheet.data_validations.dataValidation}
    letters = {cell.value: cell.column_letter for cell in sheet[2]}
    lists = {title: rules[f"{letters[title]}3:{letters[title]}62"].formula1 for title in ("Calibrated", "Walk test")}
    assert lists == {"Calibrated": '"yes,no"', "Walk test": '"pass,fail"'}
    stroke = rules[f"{letters['Measured stroke, mm']}3:{letters['Measured stroke, mm']}62"]
    assert (stroke.type, stroke.formula1, stroke.formula2) == ("decimal", "0", "5000")
    assert rules[f"{letters['Date']}3:{letters['Date']}62"].type == "date"
    assert sheet[f"{letters['Serial']}3"].number_format == "@"


def test_cautions_come_first(book):
    text = "\n".join(str(cell.value) for row in book["Read first"].iter_rows() for cell in row)
    for words in ("Isolate the mains and the battery", "clear of a sash", "Work at height", "fire strategy", "SV-221",
                  "non-friction stays", "hand locks", "Pivot brackets", "before power", "both ends of each bus",
                  "seal the entry", "Calibrate as the maker says"):  # fmt: skip
        assert words in text


def test_the_workbook_says_what_wrote_it(site, zonecfg, tmp_path):
    """ECMA-376, docProps/app.xml: no office program did."""
    zonecfg("worksheet", site, "-o", tmp_path / "sheet.xlsx")
    with zipfile.ZipFile(tmp_path / "sheet.xlsx") as book:
        told = book.read("docProps/app.xml").decode()
    assert "<Application>zonecfg</Application>" in told
    assert "Microsoft" not in told


def test_two_runs_are_one_file(site, zonecfg, tmp_path):
    for suffix in ("xlsx", "csv", "html"):
        one, two = tmp_path / f"1.{suffix}", tmp_path / f"2.{suffix}"
        for path in (one, two):
            assert zonecfg("worksheet", site, "-o", path).status == 0
        assert one.read_bytes() == two.read_bytes()
        assert zonecfg("worksheet", site, "-o", one).status == 2


@pytest.mark.parametrize("words", HOSTILE)
def test_words_stay_words(site, zonecfg, tmp_path, words):
    hostile_site(site, words)
    for suffix in ("xlsx", "csv", "html"):
        assert zonecfg("worksheet", site, "-o", tmp_path / f"s.{suffix}").status == 0
    cells = [cell for sheet in load_workbook(tmp_path / "s.xlsx") for row in sheet.iter_rows() for cell in row]
    assert all(cell.data_type != "f" for cell in cells)
    assert sum(cell.value == words for cell in cells) >= 5
    rows = list(csv.reader((tmp_path / "s.csv").read_text("utf-8-sig").splitlines()))
    assert not [cell for row in rows for cell in row if cell[:1] and cell[0] in "=+-@"]
    page = (tmp_path / "s.html").read_text("utf-8")
    seen = _Seen()
    seen.feed(page)
    assert seen.scripts == 1
    assert "img" not in seen.tags
    assert dict(seen.body)["data-site"] == words
    # Each form is recognised again as a sheet of this very site.
    for name in ("s.xlsx", "s.csv"):
        done = zonecfg("record", site, tmp_path / name, "-o", site / "as-commissioned.yaml")
        assert done.status == 0, done.err
        (site / "as-commissioned.yaml").unlink()


class _Seen(HTMLParser):
    def __init__(self):
        super().__init__()
        self.scripts, self.tags, self.body = 0, set(), []

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.scripts += tag == "script"
        if tag == "body":
            self.body = attrs


def test_the_page_asks_for_nothing_from_outside(site, zonecfg, tmp_path):
    import re

    assert zonecfg("worksheet", site, "-o", tmp_path / "s.html").status == 0
    page = (tmp_path / "s.html").read_text("utf-8")
    assert not re.search(r"""(?:src|href)=["']?(?!data:)[^"' >]|url\(|@import|https?://""", page)


def test_other_suffixes_and_faulty_plans(site, zonecfg, tmp_path):
    assert "is .xlsx, .csv or .html" in zonecfg("worksheet", site, "-o", tmp_path / "s.pdf").err
    (site / "as-designed.yaml").write_text("format: zonecfg-site/1\nstate: as-designed\nsite: {}\n", "utf-8")
    assert zonecfg("worksheet", site, "-o", tmp_path / "s.csv").status == 2


@pytest.mark.parametrize(
    ("library", "command"),
    [("xlsxwriter", "worksheet s.xlsx"), ("jinja2", "worksheet s.html"), ("segno", "worksheet s.html"),
     ("python_calamine", "record s.xlsx")],
)  # fmt: skip
def test_a_missing_library_is_named_with_its_extra(site, zonecfg, tmp_path, monkeypatch, library, command):
    name, file = command.split()
    path = tmp_path / file
    arguments = ("worksheet", site, "-o", path)
    if name == "record":
        assert zonecfg(*arguments).status == 0
        arguments = ("record", site, path, "-o", site / "as-commissioned.yaml")
    monkeypatch.setitem(sys.modules, library, None)
    done = zonecfg(*arguments)
    assert done.status == 2
    assert done.err.endswith(f"needs {library}: pip install 'zonecfg[site-work]'\n")


@pytest.mark.needs("soffice")
def test_libreoffice_opens_it(site, zonecfg, tmp_path):
    assert zonecfg("worksheet", site, "-o", tmp_path / "s.xlsx").status == 0
    subprocess.run(
        ["soffice", "--headless", "--convert-to", "csv", "--outdir", tmp_path, tmp_path / "s.xlsx"], check=True
    )
    assert (tmp_path / "s.csv").read_text("utf-8").startswith("zonecfg-worksheet/1,LKH-2207,C")
