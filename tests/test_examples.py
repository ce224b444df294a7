"""Every check runs on every example, and finds what is marked there: nothing more and nothing less."""

import re
from collections import Counter
from datetime import date
from pathlib import Path

import pytest
import yaml
from marked_examples import ROOT, cases, marks

from zonecfg.checks.registry import Enrolled, entries
from zonecfg.workflow.check import check

TODAY = date(2026, 11, 25)
CASES = cases()
ENTRIES = list(entries().values())


def _name(path: Path) -> str:
    return f"{path.parent.name}/{path.stem}"


@pytest.mark.parametrize("case", CASES, ids=_name)
def test_exactly_what_is_marked_is_found(case):
    """The marks are written by hand; a note or a warning more is as wrong as an error less."""
    findings = check([case], TODAY).findings.findings
    found = Counter(
        (Path(f.file or "").name, f.line, "expect" if f.accepted is None else "accepted", f.check) for f in findings
    )
    assert found == marks(case)


@pytest.mark.parametrize("case", CASES, ids=_name)
def test_a_good_example_has_no_marks_and_a_bad_one_shows_its_check(case):
    """A good example is clean; a bad one holds the fault its folder is named for."""
    marked = {check for _, _, kind, check in marks(case) if kind == "expect"}
    assert not marked if case.name.startswith("good") else case.parent.name in marked


def test_every_folder_is_a_check():
    """An example of no check would never be missed."""
    assert {path.name for path in ROOT.iterdir()} <= {entry.check.id for entry in ENTRIES}


@pytest.mark.parametrize("case", CASES, ids=_name)
def test_an_example_says_in_its_first_line_what_it_shows(case):
    """Whoever opens it need not work that out."""
    first = case.read_text("utf-8").partition("\n")[0]
    assert re.match(r"# [A-Z0-9a-z].*[.?!]$", first)


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.check.id)
class TestConventions:
    """What every check has to have."""

    def test_has_both_examples(self, entry: Enrolled):
        names = {path.name for path in (ROOT / entry.check.id).glob("*.yaml")}
        assert {"good.yaml", "bad.yaml"} <= names

    def test_help_is_whole(self, entry: Enrolled):
        help_ = entry.help
        parts = ("title", "why", "wrong", "cure", "right", "source")
        assert [part for part in parts if not getattr(help_, part).strip()] == []

    def test_title_is_one_sentence(self, entry: Enrolled):
        assert re.fullmatch(r"[A-Z][^\n]*\.", entry.help.title)

    def test_wrong_and_right_are_yaml(self, entry: Enrolled):
        """They are what a reader copies; only those of the Reading family may be faulty text on purpose."""
        for snippet in (entry.help.wrong, entry.help.right):
            assert isinstance(yaml.safe_load(snippet), dict)

    def test_id_reads_as_a_phrase(self, entry: Enrolled):
        assert re.fullmatch(r"[a-z]+(?:-[a-z]+)+", entry.check.id)

    def test_docstring_fits_a_terminal(self, entry: Enrolled):
        long = [line for line in (entry.module.__doc__ or "").splitlines() if len(line) > 100]
        assert long == []

    def test_states_and_needs_exist(self, entry: Enrolled):
        """A misspelt section in ``needs`` would switch the safeguard off in silence."""
        from zonecfg.model.grammar import grammar
        from zonecfg.model.plan import STATES

        assert set(entry.check.needs) <= set(grammar().order)
        assert set(entry.check.states) <= set(STATES)


def test_ids_are_unique():
    """Two files of one id are refused while the registry is built; here it is said once more, from the files."""
    package = Path(entries.__wrapped__.__code__.co_filename).parent
    stems = [path.stem for path in package.glob("*/[a-z]*.py")]
    assert len(stems) == len(set(stems)) == len(ENTRIES)
