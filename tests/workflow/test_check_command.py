"""``zonecfg check``: which files, in which order, told how, and with which exit status. The contract is the source."""

import json
import os
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

import jsonschema
import pytest
from marked_examples import ROOT as EXAMPLES

from zonecfg.report import FORMATS

SCHEMA = json.loads((EXAMPLES.parents[1] / "schemas" / "findings.schema.json").read_text("utf-8"))
CLEAN = EXAMPLES / "group-empty" / "good.yaml"
WARNS = EXAMPLES / "group-empty" / "bad.yaml"
NOTES = EXAMPLES / "group-spans-rooms" / "bad.yaml"
ERRS = EXAMPLES / "actuator-without-group" / "bad.yaml"
UNREADABLE = EXAMPLES / "unreadable-file" / "bad.yaml"


@pytest.fixture
def portfolio(tmp_path, monkeypatch):
    """Two sites that share a catalogue, which has a fault of its own; the current folder is the one above."""
    site = """\
format: zonecfg-site/1
state: as-designed
site: {{name: {}}}
catalogue: [../stock/equipment.yaml]
types:
  openings: {{high: {{hinge: top-hung, opens: outward, width_mm: 900, height_mm: 1000, sash_mass_kg: 25, stays: none,
    lock: none, sheltered: true}}}}
rooms: {{hall: {{use: teaching}}}}
openings: {{W-01: {{type: high, room: hall, sill_mm: 2600}}}}
controllers: {{C-1: {{type: hall}}}}
actuators: {{A-01: {{type: chain, opening: W-01, stroke_mm: 300}}}}
groups: {{}}
"""
    catalogue = """\
format: zonecfg-catalogue/1
types:
  controllers: {hall: {limits: {actuators: 40}}}
  actuators: {chain: {stroke_max_mm: 350, thrust_n: 300, weight_kg: 2}}
"""
    folder = tmp_path / "portfolio"
    for name in ("Tithe Barn", "Millrace School"):
        there = folder / name.lower().replace(" ", "-")
        there.mkdir(parents=True)
        (there / "as-designed.yaml").write_text(site.format(name))
    (folder / "stock").mkdir()
    (folder / "stock" / "equipment.yaml").write_text(catalogue)
    (folder / ".git").mkdir()
    (folder / "notes.yaml").write_text("shopping: [milk]\n")
    monkeypatch.chdir(folder)
    return folder


def findings(done):
    answer = json.loads(done.out)
    jsonschema.validate(answer, SCHEMA, jsonschema.Draft202012Validator)
    return answer


class TestFiles:
    def test_a_folder_and_all_below(self, zonecfg, portfolio):
        answer = findings(zonecfg("check", ".", "--format", "json"))
        assert [file["path"] for file in answer["files"]] == [
            "millrace-school/as-designed.yaml",
            "tithe-barn/as-designed.yaml",
        ]

    def test_a_shared_catalogue_is_told_once(self, zonecfg, portfolio):
        answer = findings(zonecfg("check", ".", "--format", "json"))
        assert Counter((f["file"], f["check"]) for f in answer["findings"]) == {
            ("millrace-school/as-designed.yaml", "actuator-without-group"): 1,
            ("stock/equipment.yaml", "unknown-key"): 1,
            ("tithe-barn/as-designed.yaml", "actuator-without-group"): 1,
        }

    def test_one_file_and_the_catalogue_it_names(self, zonecfg, portfolio):
        answer = findings(zonecfg("check", "tithe-barn/as-designed.yaml", "--format", "json"))
        assert [f["file"] for f in answer["findings"]] == ["stock/equipment.yaml", "tithe-barn/as-designed.yaml"]

    def test_a_catalogue_alone(self, zonecfg, portfolio):
        answer = findings(zonecfg("check", "stock/equipment.yaml", "--format", "json"))
        assert answer["files"] == []
        assert [(f["file"], f["check"]) for f in answer["findings"]] == [("stock/equipment.yaml", "unknown-key")]

    @pytest.mark.parametrize(
        "paths", [["tithe-barn", "tithe-barn/as-designed.yaml"], ["tithe-barn", "./tithe-barn/"], [".", "."]]
    )
    def test_a_file_named_twice_is_checked_once(self, zonecfg, portfolio, paths):
        answer = findings(zonecfg("check", *paths, "--format", "json"))
        assert len({file["path"] for file in answer["files"]}) == len(answer["files"])
        assert len({(f["file"], f["check"]) for f in answer["findings"]}) == len(answer["findings"])

    def test_a_file_through_a_link_is_the_same_file(self, zonecfg, portfolio):
        Path("again").symlink_to("tithe-barn", target_is_directory=True)
        answer = findings(zonecfg("check", "tithe-barn", "again", "--format", "json"))
        assert len(answer["files"]) == 1

    def test_order_of_findings_does_not_hang_on_the_order_of_paths(self, zonecfg, portfolio):
        one = findings(zonecfg("check", "tithe-barn", "millrace-school", "--format", "json"))
        other = findings(zonecfg("check", "millrace-school", "tithe-barn", "--format", "json"))
        assert one["findings"] == other["findings"]
        assert one["files"] == other["files"]

    def test_findings_are_in_order(self, zonecfg, portfolio):
        """File, line, column, check, pointer."""
        for path in EXAMPLES.iterdir():
            shutil.copytree(path, portfolio / "all" / path.name)
        answer = findings(zonecfg("check", "all", "--format", "json"))
        keys = [(f["file"], f["line"], f["column"], f["check"], f["at"]) for f in answer["findings"]]
        assert len(keys) > 100
        assert keys == sorted(keys)

    def test_hidden_folders_and_other_peoples_yaml_are_left_alone(self, zonecfg, portfolio):
        for name in (".venv", "node_modules"):
            shutil.copytree("tithe-barn", f"{name}/site")
        (portfolio / "pipeline.yml").write_text("on: push\njobs: {a: !tag b}\n")
        assert len(findings(zonecfg("check", ".", "--format", "json"))["files"]) == 2

    @pytest.mark.parametrize("name", ["as-designed.yaml", "as-commissioned.yml", "saved/2026-05-14.yaml"])
    def test_a_file_named_as_a_plan_is_one_even_when_it_cannot_be_read(self, zonecfg, portfolio, name):
        """A broken first line must not make a plan invisible."""
        Path("wreck/saved").mkdir(parents=True)
        Path("wreck", name).write_text("%%% not yaml at all\n")
        answer = findings(zonecfg("check", "wreck", "--format", "json"))
        assert [(f["check"], f["file"]) for f in answer["findings"]] == [("unreadable-file", f"wreck/{name}")]
        assert answer["files"] == [
            {"path": f"wreck/{name}", "state": None, "actuators": None, "groups": None, "sensors": None}
        ]

    @pytest.mark.parametrize("first", ["format: zonecfg-site/1", '"format": "zonecfg-site/1"',
                                       "'format' : zonecfg-site/1",
                                       "\ufeffformat: zonecfg-site/1",
                                       "# note\n\nformat:   zonecfg-site/1"])  # fmt: skip
    def test_a_plan_of_any_name_is_found_by_its_format(self, zonecfg, portfolio, first):
        Path("odd").mkdir()
        Path("odd/plan.yaml").write_text(first + "\nstate: as-designed\nsite: {name: Ashlar Court}\n", "utf-8")
        answer = findings(zonecfg("check", "odd", "--format", "json"))
        assert answer["files"][0]["state"] == "as-designed"
        assert answer["findings"] == []


class TestNames:
    def test_relative_to_the_current_folder(self, zonecfg, portfolio):
        answer = findings(zonecfg("check", portfolio / "tithe-barn", "--format", "json"))
        assert answer["files"][0]["path"] == "tithe-barn/as-designed.yaml"

    def test_else_relative_to_the_path_given(self, zonecfg, portfolio, tmp_path, monkeypatch):
        (tmp_path / "elsewhere").mkdir()
        monkeypatch.chdir(tmp_path / "elsewhere")
        answer = findings(zonecfg("check", portfolio, "--format", "json"))
        assert {f["file"] for f in answer["findings"]} == {
            "millrace-school/as-designed.yaml", "stock/equipment.yaml", "tithe-barn/as-designed.yaml",
        }  # fmt: skip

    @pytest.mark.parametrize("fmt", FORMATS)
    def test_no_absolute_path_and_no_backslash(self, zonecfg, portfolio, fmt, tmp_path, monkeypatch):
        monkeypatch.chdir(tmp_path)
        for path in (portfolio, portfolio / "tithe-barn" / "as-designed.yaml"):
            done = zonecfg("check", path, "--format", fmt)
            assert str(tmp_path) not in done.out + done.err
            if fmt != "markdown":
                assert "tithe-barn\\" not in done.out

    def test_two_sites_of_one_name_stay_two(self, zonecfg, portfolio, tmp_path, monkeypatch):
        """Nothing of one hides behind the other, wherever the command is run."""
        (tmp_path / "elsewhere").mkdir()
        monkeypatch.chdir(tmp_path / "elsewhere")
        answer = findings(zonecfg("check", portfolio / "tithe-barn", portfolio / "millrace-school", "--format", "json"))
        assert len(answer["files"]) == 2
        assert Counter(f["check"] for f in answer["findings"])["actuator-without-group"] == 2


class TestStatus:
    @pytest.mark.parametrize(
        ("path", "statuses"),
        [(CLEAN, "0000"), (NOTES, "0010"), (WARNS, "0110"), (ERRS, "1110"), (UNREADABLE, "1110")],
        ids=["clean", "note", "warning", "error", "unreadable"],
    )
    def test_by_severity(self, zonecfg, path, statuses):
        """0 = nothing at or above --fail-on, 1 = something."""
        found = [zonecfg("check", path, "--fail-on", level).status for level in ("error", "warning", "note", "never")]
        assert "".join(map(str, found)) == statuses

    def test_error_is_the_level_by_itself(self, zonecfg):
        assert [zonecfg("check", path).status for path in (CLEAN, NOTES, WARNS, ERRS)] == [0, 0, 0, 1]

    def test_an_accepted_finding_does_not_count(self, zonecfg):
        assert zonecfg("check", EXAMPLES / "acceptance-unexplained" / "good.yaml", "--fail-on", "note").status == 0

    @pytest.mark.parametrize(
        "arguments",
        [
            ["check"],
            ["check", "nowhere"],
            ["check", "nowhere.yaml", "."],
            ["check", ".", "nowhere.yaml"],
            ["check", "empty"],
            ["check", "others"],
            ["check", "dangling.yaml"],
            ["check", ".", "--fail-on", "fatal"],
            ["check", ".", "--format", "xml"],
            ["check", ".", "--today", "tomorrow"],
            ["check", ".", "--today", "2026-02-30"],
            ["check", ".", "--output", "json"],
            ["check", ".", "--output", "=x.json"],
            ["check", ".", "--output", "xml=x.xml"],
            ["check", ".", "--output", "json=no/such/folder/x.json"],
            ["check", ".", "--output", "json=tithe-barn/as-designed.yaml"],
            ["check", ".", "--colour"],
            ["chekc", "."],
        ],
        ids=lambda arguments: " ".join(arguments)[:40],
    )
    def test_could_not_run(self, zonecfg, portfolio, arguments):
        """2 = usage, a path that cannot be opened or holds no site file. Nothing goes to standard output."""
        Path("empty").mkdir()
        Path("others").mkdir()
        Path("others/ci.yaml").write_text("on: push\n")
        Path("dangling.yaml").symlink_to("gone.yaml")
        before = Path("tithe-barn/as-designed.yaml").read_bytes()
        done = zonecfg(*arguments)
        assert done.status == 2
        assert done.out == ""
        assert done.err.strip()
        assert "Traceback" not in done.err
        assert "internal failure" not in done.err
        assert Path("tithe-barn/as-designed.yaml").read_bytes() == before

    def test_a_name_longer_than_names_are(self, zonecfg, portfolio):
        done = zonecfg("check", "x" * 3_000)
        assert done.status == 2
        assert "internal failure" not in done.err

    def test_no_command_at_all_shows_the_help(self, zonecfg):
        done = zonecfg()
        assert done.status == 2
        assert "check" in done.out + done.err

    @pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
    def test_a_pipe_is_not_waited_for(self, zonecfg, portfolio):
        os.mkfifo("pipe.yaml")
        assert zonecfg("check", "pipe.yaml").status == 2
        assert len(findings(zonecfg("check", ".", "--format", "json"))["files"]) == 2

    def test_nothing_it_reads_is_a_pass_that_it_could_not_read(self, zonecfg, portfolio):
        """Every check that needs a plan is listed as not checked where the plan could not be read."""
        answer = findings(zonecfg("check", UNREADABLE, "--format", "json"))
        from zonecfg.checks.registry import entries

        needing = {entry.check.id for entry in entries().values() if entry.problems is not None}
        assert {entry["check"] for entry in answer["not_checked"]} == needing


class TestWhatItWrites:
    @staticmethod
    def snapshot(folder):
        return {path: path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}

    @pytest.mark.parametrize("fmt", FORMATS)
    def test_two_runs_are_byte_identical(self, zonecfg, portfolio, fmt):
        assert zonecfg("check", ".", "--format", fmt) == zonecfg("check", ".", "--format", fmt)

    def test_hash_order_does_not_show(self, portfolio):
        """Two processes with other hash seeds, and byte for byte the same."""
        outs = [
            subprocess.run(
                [sys.executable, "-m", "zonecfg", "check", EXAMPLES, "--format", "json", "--today", "2026-11-25"],
                capture_output=True, check=False, env={**os.environ, "PYTHONHASHSEED": seed},
            ).stdout
            for seed in ("1", "2")
        ]  # fmt: skip
        assert outs[0] == outs[1] != b""

    @pytest.mark.parametrize("arguments", [["check", "."], ["check", ".", "--format", "json"], ["explain",
                                           "group-empty"],
                                           ["schema"], ["--help"]])  # fmt: skip
    def test_nothing_is_written(self, zonecfg, portfolio, arguments):
        before = self.snapshot(portfolio)
        zonecfg(*arguments)
        assert self.snapshot(portfolio) == before

    def test_several_outputs_in_one_run(self, zonecfg, portfolio):
        before = self.snapshot(portfolio)
        done = zonecfg("check", ".", "--output", "json=f.json", "--output", "markdown=f.md", "--output", "text=f.txt")
        assert done.status == 1
        after = self.snapshot(portfolio)
        assert {path.name for path in set(after) - set(before)} == {"f.json", "f.md", "f.txt"}
        assert Path("f.txt").read_text("utf-8") == done.out
        for fmt, name in (("json", "f.json"), ("markdown", "f.md")):
            assert Path(name).read_text("utf-8") == zonecfg("check", ".", "--format", fmt).out

    def test_a_file_that_stands_there_needs_force(self, zonecfg, portfolio):
        Path("f.json").write_text("mine")
        done = zonecfg("check", ".", "--output", "json=f.json")
        assert (done.status, Path("f.json").read_text()) == (2, "mine")
        assert "--force" in done.err
        assert zonecfg("check", ".", "--output", "json=f.json", "--force").status == 1
        assert json.loads(Path("f.json").read_text("utf-8"))["format"] == "zonecfg-findings/1"

    def test_force_keeps_the_mode_of_the_file(self, zonecfg, portfolio):
        Path("f.json").write_text("mine")
        Path("f.json").chmod(0o640)
        zonecfg("check", ".", "--output", "json=f.json", "--force")
        assert Path("f.json").stat().st_mode & 0o777 == 0o640

    def test_nothing_is_left_behind_where_writing_fails(self, zonecfg, portfolio):
        Path("there").mkdir()
        before = self.snapshot(portfolio)
        assert zonecfg("check", ".", "--output", "json=there", "--force").status == 2
        assert self.snapshot(portfolio) == before

    def test_today_stands_in_for_the_clock(self, zonecfg):
        path = EXAMPLES / "acceptance-expired" / "bad.yaml"
        found = {
            day: [f["check"] for f in findings(zonecfg("check", path, "--format", "json", "--today", day))["findings"]
                  if f["accepted"] is None]
            for day in ("2026-11-24", "2026-11-25")
        }  # fmt: skip
        assert found == {"2026-11-24": [], "2026-11-25": ["group-spans-rooms", "acceptance-expired"]}

    def test_findings_counted_in_the_summary(self, zonecfg):
        answer = findings(zonecfg("check", EXAMPLES, "--format", "json"))
        counts = Counter("accepted" if f["accepted"] is not None else f["severity"] for f in answer["findings"])
        assert answer["summary"] == counts

    def test_every_place_is_a_line_of_its_file(self, zonecfg, monkeypatch):
        monkeypatch.chdir(EXAMPLES)
        answer = findings(zonecfg("check", ".", "--format", "json"))
        for found in answer["findings"]:
            lines = Path(found["file"]).read_text("utf-8").split("\n")
            line = lines[found["line"] - 1]
            assert found["column"] <= len(line) + 1
            if found["end_column"] is not None:
                assert found["column"] < found["end_column"] <= len(line) + 1


class TestNothingMakesItFail:
    """Whatever stands in a plan is a finding; a plan cannot make the program fail."""

    def test_mutated_sites(self, tmp_path):
        from datetime import date

        from faulty_sites import mutated
        from hypothesis import HealthCheck, given, settings
        from sites import as_yaml

        from zonecfg.report import FORMATS, render
        from zonecfg.workflow.check import check

        @settings(max_examples=150, suppress_health_check=list(HealthCheck))
        @given(mutated())
        def law(data):
            file = tmp_path / "as-designed.yaml"
            file.write_text(as_yaml(data), "utf-8")
            outcome = check([file], date(2026, 11, 25))
            for name in FORMATS:
                assert render(name, outcome)

        law()


class TestRequire:
    """Silence can be made to fail."""

    SITE = EXAMPLES / "voltage-too-low" / "good.yaml"

    @pytest.mark.parametrize("name", ["sash", "sash-loose-in-storm"])
    def test_what_was_not_checked_fails(self, zonecfg, name):
        """Nothing is wrong in it, and no storm is stated: the family was not judged in full."""
        assert zonecfg("check", self.SITE).status == 0
        done = zonecfg("check", self.SITE, "--require", name)
        assert (done.status, "site.storm_wind_m_s is not given" in done.out) == (1, True)

    @pytest.mark.parametrize("name", ["acceptance", "voltage-too-low"])
    def test_what_was_checked_does_not(self, zonecfg, name):
        assert zonecfg("check", self.SITE, "--require", name).status == 0

    def test_a_name_that_is_none_is_refused(self, zonecfg):
        done = zonecfg("check", self.SITE, "--require", "sahs")
        assert (done.status, "sash is the nearest known" in done.err) == (2, True)


def test_what_is_not_shown_is_counted(zonecfg, tmp_path):
    """All sites of the examples: with errors alone shown, what less there is is one sentence; JSON holds all."""
    path = EXAMPLES / "group-spans-rooms"
    shown, all_ = zonecfg("check", path, "--show", "error"), zonecfg("check", path)
    assert "group-spans-rooms" in all_.out
    assert "group-spans-rooms" not in shown.out.split("Not checked")[0]
    assert "Not shown: 1 note" in shown.out
    assert (
        zonecfg("check", path, "--show", "error", "--format", "json").out
        == zonecfg("check", path, "--format", "json").out
    )
    refused = zonecfg("check", path, "--output", "json=-")
    assert refused.status == 2
    assert "--format json" in refused.err
