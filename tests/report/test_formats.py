"""The same findings in every format, each read back by somebody else's reader."""

import csv
import json
import re
import subprocess
import sys
from collections import Counter
from datetime import date
from pathlib import Path

import cmarkgfm
import pytest
from cmarkgfm.cmark import Options
from jsonschema import Draft4Validator
from junitparser import JUnitXml

from zonecfg.report import FORMATS, render
from zonecfg.report.github import MOST
from zonecfg.results.finding import Finding, Findings, NotChecked, summarise
from zonecfg.results.outcome import Outcome
from zonecfg.workflow.check import check

ROOT = Path(__file__).parents[2]
TODAY = date(2026, 11, 25)
SARIF = json.loads((Path(__file__).parent / "data" / "sarif-2.1.0.schema.json").read_text("utf-8"))
NASTY = "\x1b[31m<script>alert(1)</script> | `x` [a](http://b) @owner #12 ::error::x %0A\u202e{{ }} *b* _c_"


@pytest.fixture(scope="module")
def outcome():
    """What is found of the example site, which has findings of every severity and an accepted one."""
    return check([ROOT / "examples" / "larkenby-hall"], TODAY)


def of(*findings, not_checked=()):
    answer = Findings(findings=findings, not_checked=tuple(not_checked), summary=summarise(findings))
    return Outcome(findings=answer, lines={(f.file, f.line): f"x: {NASTY}" for f in findings})


def a_finding(number=1, severity="error", message="a message", check="wrong-shape"):
    return Finding(
        check=check,
        severity=severity,
        about=f"actuators/A-{number}",
        file="a site, 100 %/as-designed.yaml",
        at=f"/actuators/A-{number}",
        line=number,
        column=3,
        end_column=7,
        message=message,
    )


def open_findings(outcome):
    return sorted((f.check, f.file, f.line) for f in outcome.findings.findings if f.accepted is None)


class TestSarif:
    """OASIS SARIF 2.1.0: its own schema, as Microsoft's npm package jest-sarif carries it."""

    def results(self, outcome):
        return json.loads(render("sarif", outcome))["runs"][0]["results"]

    def test_fits_the_schema_of_oasis(self, outcome):
        Draft4Validator(SARIF).validate(json.loads(render("sarif", outcome)))
        Draft4Validator(SARIF).validate(json.loads(render("sarif", of())))
        Draft4Validator(SARIF).validate(json.loads(render("sarif", of(a_finding(message=NASTY)))))

    def test_tells_every_open_finding_at_its_place(self, outcome):
        told = sorted(
            (
                r["ruleId"],
                r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"],
                r["locations"][0]["physicalLocation"]["region"]["startLine"],
            )
            for r in self.results(outcome)
            if "suppressions" not in r
        )
        assert told == open_findings(outcome)

    def test_regions_are_of_one_line_and_uris_are_encoded(self):
        (result,) = self.results(of(a_finding()))
        where = result["locations"][0]["physicalLocation"]
        assert where["region"] == {"startLine": 1, "endLine": 1, "startColumn": 3, "endColumn": 7}
        assert where["artifactLocation"]["uri"] == "a%20site,%20100%20%25/as-designed.yaml"

    def test_fingerprints_survive_moved_lines(self):
        here, there = (self.results(of(a_finding(number=1))), self.results(of(a_finding(number=1))))
        moved = of(a_finding(number=1))
        lines = {("a site, 100 %/as-designed.yaml", 40): f"x: {NASTY}"}
        finding = moved.findings.findings[0]
        later = Outcome(
            findings=Findings(
                findings=(Finding(**{**{f: getattr(finding, f) for f in finding.__struct_fields__}, "line": 40}),)
            ),
            lines=lines,
        )
        assert here == there
        assert self.results(later)[0]["partialFingerprints"] == here[0]["partialFingerprints"]

    def test_never_sets_security_severity(self, outcome):
        assert "security-severity" not in render("sarif", outcome)

    def test_an_independent_reader_counts_the_same(self, outcome, tmp_path):
        """sarif-tools, Microsoft's reader in Python."""
        path = tmp_path / "findings.sarif"
        path.write_text(render("sarif", outcome), "utf-8")
        done = subprocess.run(
            [sys.executable, "-m", "sarif", "csv", "--output", str(tmp_path / "findings.csv"), str(path)],
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        rows = list(csv.DictReader((tmp_path / "findings.csv").read_text("utf-8").splitlines()))
        found = outcome.findings.findings  # its table does not tell what is suppressed
        assert Counter((row["Severity"], row["Code"], int(row["Line"])) for row in rows) == Counter(
            (f.severity, f.check, f.line) for f in found
        )


class TestJunit:
    """Read by junitparser."""

    def test_failures_are_the_open_errors_and_warnings(self, outcome):
        suites = JUnitXml.fromstring(render("junit", outcome).encode())
        failed = {
            (suite.name, case.name) for suite in suites for case in suite for r in case.result if r._tag == "failure"
        }
        wanted = {(f.file, f.check) for f in outcome.findings.findings if f.accepted is None and f.severity != "note"}
        assert failed == wanted
        assert sum(suite.failures for suite in suites) == len(wanted)

    def test_what_was_not_checked_is_skipped(self):
        entry = NotChecked(
            check="voltage-too-low", file=a_finding().file, because="no cable carries power", ids=("A-1",)
        )
        suites = JUnitXml.fromstring(render("junit", of(a_finding(), not_checked=[entry])).encode())
        told = {
            (case.name, r.message) for suite in suites for case in suite for r in case.result if r._tag == "skipped"
        }
        assert told == {("voltage-too-low", "no cable carries power (A-1)")}

    def test_nasty_words_stay_words(self):
        suites = JUnitXml.fromstring(render("junit", of(a_finding(message=NASTY))).encode())
        assert len(list(suites)) == 1


class TestGithub:
    """Workflow commands: one a line, properties and data escaped, ten of a kind and what was cut is said."""

    COMMAND = re.compile(r"::(error|warning|notice)(?: ([^:]*))?::([^\r\n]*)\Z")

    def lines(self, outcome):
        return render("github", outcome).splitlines()

    def test_tells_open_findings(self, outcome):
        counts = {"error": 0, "warning": 0}
        for line in self.lines(outcome):
            kind = self.COMMAND.match(line)[1]
            if kind in counts:
                counts[kind] += 1
        found = [f.severity for f in outcome.findings.findings if f.accepted is None]
        assert counts == {kind: min(found.count(kind), MOST) for kind in counts}

    def test_cut_is_said(self):
        lines = self.lines(of(*(a_finding(number=n + 1) for n in range(25))))
        assert len(lines) == MOST + 1
        assert "not shown here: 15 errors" in lines[-1]

    def test_nasty_words_start_no_command(self):
        lines = self.lines(of(a_finding(message=f"first\n::error::second\r{NASTY}")))
        assert len(lines) == 1
        assert lines[0].startswith("::error file=a site%2C 100 %25/as-designed.yaml,")


class TestMarkdown:
    """Through cmark-gfm, GitHub's own renderer."""

    def html(self, outcome):
        return cmarkgfm.github_flavored_markdown_to_html(render("markdown", outcome), options=Options.CMARK_OPT_UNSAFE)

    def test_nasty_words_come_out_as_words(self):
        html = self.html(of(a_finding(message=NASTY)))
        inside = re.sub(r"<pre.*?</pre>", "", html, flags=re.DOTALL)
        assert "<script" not in html
        assert "<a " not in html
        assert "<em>" not in inside
        assert "<table" not in html
        assert "@owner" not in inside
        assert "mailto" not in self.html(of(a_finding(message="ask me@example.org, #7")))
        assert "@owner" not in render("markdown", of(a_finding(message=NASTY))).split("```")[0]

    def test_every_finding_is_told(self, outcome):
        html = self.html(outcome)
        for check_id, _, _ in open_findings(outcome):
            assert f"<code>{check_id}</code>" in html


@pytest.mark.parametrize("name", sorted(FORMATS))
def test_terminal_escapes_are_never_passed_on(name):
    written = render(name, of(a_finding(message=NASTY)))
    assert "\x1b" not in written
    if name != "json":
        assert "\u202e" not in written


@pytest.mark.parametrize("name", sorted(FORMATS))
def test_two_runs_are_byte_identical(name, outcome):
    assert render(name, outcome) == render(name, check([ROOT / "examples" / "larkenby-hall"], TODAY))
