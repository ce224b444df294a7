"""Cures: the findings are gone, nothing else is new or worse, comments stay, and nothing that safety hangs on moves."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import jsonpatch
import pytest
import yaml
from marked_examples import cases

from zonecfg.checks.registry import entries
from zonecfg.compare.patch import patched
from zonecfg.workflow.check import check
from zonecfg.workflow.cure import Chosen, cure

TODAY = date(2026, 11, 25)
READ = {check_id for check_id, entry in entries().items() if entry.family == "reading"}
MECHANICAL = {
    "actuator-repeated-in-group", "bus-without-common", "link-without-wet-action", "stroke-over-type",
    "terminator-misplaced", "terminator-missing", "unknown-key", "unknown-reference", "voltage-too-low",
}  # fmt: skip


@pytest.fixture
def copied(tmp_path):
    """Copy an example with what lies beside it into a repository of its own."""

    def copy(case: Path) -> Path:
        shutil.copytree(case.parent, tmp_path / "site", dirs_exist_ok=True)
        (tmp_path / "site" / ".git").mkdir(exist_ok=True)
        return tmp_path / "site" / case.name

    return copy


def open_findings(path: Path) -> dict[tuple[str, str], object]:
    return {f.identity: f for f in check([path], TODAY).findings.findings if f.accepted is None and f.file}


def readable(case: Path) -> bool:
    return case.parent.name not in {"unreadable-file", "duplicate-key"}


@pytest.mark.parametrize("case", [*filter(readable, cases())], ids=lambda case: f"{case.parent.name}/{case.stem}")
def test_what_is_cured_is_gone_and_nothing_else_is_new(case, copied):
    path = copied(case)
    before, text = open_findings(path), path.read_text("utf-8")
    answer = cure([path], TODAY, write=True)
    after = open_findings(path)
    made = [(made.check, made.about) for file in answer.files for made in file.made]
    hidden = any(check_id == "unknown-key" for check_id, _ in made)
    assert not set(made) & after.keys()
    assert hidden or not after.keys() - before.keys()
    if not made:
        assert path.read_text("utf-8") == text
    comments = [line.split("#", 1)[1] for line in text.splitlines() if "#" in line]
    kept = path.read_text("utf-8")
    gone = {"actuator-repeated-in-group", "terminator-misplaced"}  # their lines go, and what is written behind them
    assert {c for c, _ in made} & gone or all(comment in kept for comment in comments)


def test_each_mechanical_check_has_its_cure(copied):
    cured = {
        made.check
        for case in filter(readable, cases())
        for file in cure([copied(case)], TODAY).files
        for made in file.made
    }
    assert cured >= MECHANICAL


@pytest.mark.parametrize("case", [*filter(readable, cases())], ids=lambda case: f"{case.parent.name}/{case.stem}")
def test_every_patch_that_is_offered_applies(case):
    """As the jsonpatch library applies it, to the data as PyYAML reads it."""
    data = yaml.load(case.read_text("utf-8"), yaml.BaseLoader)  # noqa: S506  (every value as text)
    for found in check([case], TODAY).findings.findings:
        for offered in found.cures:
            if offered.patch is not None and found.file and found.file.endswith(case.name):
                steps = [dict(step) for step in offered.patch]
                assert patched(data, offered.patch) == jsonpatch.apply_patch(data, steps)


def test_what_safety_hangs_on_is_never_cured():
    """A word that says what a window is for, or what protects it, is a person's to mend."""
    for case in filter(readable, cases()):
        for found in check([case], TODAY).findings.findings:
            if entries()[found.check].family != "sash" and not found.check.startswith("smoke"):
                continue
            assert found.check == "stroke-over-type" or all(offered.patch is None for offered in found.cures)


def test_at_the_command_line(copied, zonecfg):
    path = copied(next(case for case in cases() if case.parent.name == "terminator-missing" and case.stem == "bad"))
    told = zonecfg("cure", path)
    assert (told.status, "+terminators: [C-1, A-03]" in told.out) == (1, True)
    for narrowed in (("--only", "unknown-key"), ("--at", "/openings")):
        assert zonecfg("cure", path, *narrowed).status == 0
    assert zonecfg("cure", path, "--only", "no-such-check").status == 2
    assert [zonecfg("cure", path, "--write").status, zonecfg("cure", path).status] == [0, 0]


def test_a_guess_is_made_only_where_somebody_names_it(copied):
    path = copied(next(case for case in cases() if case.parent.name == "implausible-figure" and case.stem == "bad"))
    text = path.read_text("utf-8")
    cure([path], TODAY, write=True)
    assert path.read_text("utf-8") == text
    (file,) = cure([path], TODAY, Chosen(only="implausible-figure"), write=True).files
    assert [made.about for made in file.made]
    assert ("implausible-figure", file.made[0].about) not in open_findings(path)
