"""Input and surroundings that are not as one would wish: never an internal failure, never an empty report."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
HOUSE = EXAMPLES / "larkenby-hall"
SITE = "format: zonecfg-site/1\nstate: as-designed\nsite: {name: A}\n"


@pytest.mark.parametrize("whole", ["8.0", "8e0", "1e300", "1e9"])
def test_a_whole_number_may_be_written_with_a_point(zonecfg, tmp_path, whole):
    """JSON Schema 2020-12, section 6.1.1: a number with a zero fractional part is an integer."""
    path = tmp_path / "as-designed.yaml"
    path.write_text(
        SITE + f"rooms: {{r: {{storey: 2.0}}}}\ntypes: {{controllers: {{c: {{limits: {{actuators: {whole}}}}}}}}}\n"
        "controllers: {C-1: {type: c}}\nrecord: {controllers: {C-1: {actuators_counted: 0.0}}}\n",
        "utf-8",
    )
    for command in ("check", "figures"):
        done = zonecfg(command, path)
        assert done.status == 0
        assert "internal failure" not in done.err
    assert zonecfg("compare", path, path).status == 0


@pytest.mark.parametrize(
    "arguments",
    [["compare", "e.yaml", "e.yaml"], ["figures", "e.yaml"], ["explain", "\x1b[31mx"], ["check", "\x1b]0;x\x07"]],
    ids=lambda arguments: arguments[0],
)
def test_complaints_do_not_steer_the_terminal(zonecfg, tmp_path, monkeypatch, arguments):
    monkeypatch.chdir(tmp_path)
    Path("e.yaml").write_text(SITE + '"fo\\e[31mo\\a\\u202e": 1\n', "utf-8")
    done = zonecfg(*arguments)
    assert not {"\x1b", "\x07", "\u202e"} & set(done.out + done.err)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize(
    "arguments", [["schema"], ["explain"], ["check", HOUSE], ["figures", HOUSE / "as-designed.yaml"]]
)
def test_a_full_disk_is_no_defect(arguments):
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "zonecfg", *map(str, arguments)],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == 2
    assert "internal failure" not in done.stderr
    assert done.stderr.strip()


@pytest.mark.parametrize("fmt", ["sarif", "junit", "github"])
@pytest.mark.parametrize(
    "arguments",
    [
        ["figures", HOUSE / "as-designed.yaml"],
        ["rehearse", HOUSE / "as-designed.yaml", "--wet", "R-1@1..3"],
        ["rollback", HOUSE / "as-commissioned.yaml", "--to", HOUSE / "saved" / "2026-05-14.yaml"],
        ["match", HOUSE / "as-commissioned.yaml", HOUSE / "site-work" / "found.csv"],
        ["identify", HOUSE / "as-designed.yaml", HOUSE / "site-work" / "unlabelled.csv"],
    ],
    ids=lambda arguments: arguments[0],
)
def test_what_judges_nothing_gives_no_empty_report_of_findings(zonecfg, arguments, fmt):
    done = zonecfg(*arguments, "--format", fmt)
    assert done.status == 2
    assert done.out == ""
    assert "tells findings" in done.err


def test_a_catalogue_that_is_missing_is_one_finding(zonecfg, tmp_path):
    """One finding a fault: that every type named is nowhere follows from it."""
    for name in ("as-designed.yaml", "equipment.yaml"):
        (tmp_path / name).write_bytes((HOUSE / name).read_bytes())
    path = tmp_path / "as-designed.yaml"
    path.write_text(path.read_text("utf-8").replace("equipment.yaml", "equipmnt.yaml", 1), "utf-8")
    done = zonecfg("check", path, "--format", "json")
    findings = json.loads(done.out)["findings"]
    assert done.status == 1
    assert [f["about"] for f in findings if f["check"] == "unknown-reference"] == ["catalogue/0"]


def test_a_rehearsal_says_what_it_could_not_take_in(zonecfg, tmp_path):
    """A sensor that measures nobody knows what closes nothing here, and that must not read like a missing link."""
    path = tmp_path / "as-designed.yaml"
    path.write_text(
        SITE
        + "rooms: {hall: {}}\nopenings: {W-1: {room: hall}}\nactuators: {A-1: {opening: W-1, type: chain, stroke_mm: 300}}\n"
        "types: {actuators: {chain: {speed_mm_s: 6}}, sensors: {plate: {measures: rain}}}\n"
        "groups: {hall: {actuators: [A-1]}}\nsensors: {R-1: {type: gone}, R-2: {type: plate}}\n"
        "links: {R-1: [hall], R-2: []}\nwet_weather: {hall: {open_percent: 0, when_dry: stay}}\n",
        "utf-8",
    )
    done = zonecfg("rehearse", path, "--wet", "R-2@1..5", "--format", "json")
    answer = json.loads(done.out)
    assert "1 error of reading" in answer["notes"][0]
    assert any("R-1" in note and "not known what" in note for note in answer["notes"])
    assert [entry["because"] for entry in answer["open_in_rain"]] == [
        "it is not known what R-1, linked to hall, measures"
    ]


def test_a_picture_is_named_svg(zonecfg, tmp_path):
    done = zonecfg("rehearse", HOUSE / "as-designed.yaml", "--wet", "R-1@1..5", "-o", tmp_path / "rain.png")
    assert done.status == 2
    assert ".svg" in done.err
    assert not list(tmp_path.iterdir())


def test_a_long_guilty_part_is_cut_to_the_line(zonecfg, tmp_path):
    path = tmp_path / "as-designed.yaml"
    path.write_text("[" * 3000, "utf-8")
    assert max(len(line) for line in zonecfg("check", path).out.splitlines() if "│" in line) <= 80
    path.write_text(SITE + f"state: {'x' * 500}\n", "utf-8")
    done = zonecfg("check", path)
    assert max(len(line) for line in done.out.splitlines() if "│" in line) <= 80


@pytest.mark.parametrize("state", ["state: as-desgned\n", ""])
def test_a_plan_of_no_known_state_is_not_checked_and_says_so(zonecfg, tmp_path, state):
    """What it accepts may well be there: nothing is taken for gone."""
    path = tmp_path / "as-designed.yaml"
    path.write_text(
        f"format: zonecfg-site/1\n{state}site: {{name: Old Granary}}\n"
        "accepted:\n- {check: single-sensor, at: /sensors/R-1, because: one roof, by: designer, until: 2099-01-01}\n",
        "utf-8",
    )
    done = zonecfg("check", path, "--format", "json")
    answer = json.loads(done.out)
    assert done.status == 1
    assert [found["check"] for found in answer["findings"]] == ["wrong-shape"]
    unchecked = {entry["check"] for entry in answer["not_checked"]}
    assert {"left-open-in-rain", "thrust-too-small", "single-sensor", "acceptance-unused"} <= unchecked


def test_a_folder_that_cannot_be_looked_into_is_told(zonecfg, tmp_path, monkeypatch):
    (tmp_path / "as-designed.yaml").write_text(SITE, "utf-8")
    (tmp_path / "closed").mkdir()
    scandir = os.scandir

    def closed(path):
        if Path(path).name == "closed":
            raise PermissionError(13, "Permission denied", str(path))
        return scandir(path)

    monkeypatch.setattr(os, "scandir", closed)
    done = zonecfg("check", tmp_path)
    assert (done.status, done.out) == (2, "")
    assert "closed: Permission denied" in done.err


def test_a_site_file_is_known_by_its_format_whatever_the_case_of_the_key(zonecfg, tmp_path):
    (tmp_path / "as-designed.yaml").write_text(SITE, "utf-8")
    (tmp_path / "plan.yaml").write_text(SITE.replace("format", "Format"), "utf-8")
    done = zonecfg("check", tmp_path)
    assert done.status == 1
    assert "plan.yaml" in done.out


@pytest.mark.needs("bash")
@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-"])
@pytest.mark.parametrize("command", ["check", "figures"])
def test_closed_outputs_are_no_defect(tmp_path, command, closed):
    (tmp_path / "as-designed.yaml").write_text(SITE, "utf-8")
    done = subprocess.run(
        ["bash", "-c", f"'{sys.executable}' -m zonecfg {command} as-designed.yaml {closed}"],
        cwd=tmp_path, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
