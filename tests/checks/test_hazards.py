"""The table of hazards says of every window what its checks say: read apart from findings and what was not checked."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from marked_examples import cases

from zonecfg.checks.hazards import HAZARDS, hazards
from zonecfg.checks.registry import entries
from zonecfg.figures import Figures
from zonecfg.figures.margins import margins
from zonecfg.workflow.check import check_state, outcome_of
from zonecfg.workflow.load import Loader
from zonecfg.workflow.paths import find

ROOT = Path(__file__).parent.parent.parent
HALL = ROOT / "examples" / "larkenby-hall"
STATES = [path for path in cases() if path.parent.name not in {"unreadable-file", "duplicate-key"}]
STATES += [HALL / "as-designed.yaml", HALL / "as-commissioned.yaml"]


def judged(path):
    return check_state(Loader().state(find(path)[0]), date(2026, 11, 25))


@pytest.mark.parametrize("path", STATES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_counts_and_words_agree_with_what_is_told(path):
    checked = judged(path)
    if checked.figures is None:
        return
    site, findings = checked.figures.site, checked.findings
    counts = outcome_of([checked]).findings.judged
    assert set(counts) == {check_id for check_id, entry in entries().items() if entry.problems is not None}
    for check_id, told in counts.items():
        over = entries()[check_id].check.over
        things = 1 if over == "site" else len(getattr(site, over))
        about = {s for f in findings if f.check == check_id for s in f.subjects if s.startswith(over + "/")}
        assert told.found == len(about) or over == "site"
        assert told.passed + told.found + told.unknown + told.not_applicable >= things
        if not told.unknown:
            silent = [n for n in checked.not_checked if n.check == check_id and entries()[check_id].judges(site.state)]
            named = {name for n in silent for name in n.ids} & (set() if over == "site" else set(getattr(site, over)))
            applicable = told.passed + told.found
            assert not silent or not applicable or named <= {s.split("/", 1)[1] for s in about} or not named
    rows = hazards(checked.figures, checked.verdicts, findings)
    assert [row.opening for row in rows] == [o for o in site.openings if site.actuators_of.get(o)]
    for row in rows:
        for hazard, checks in HAZARDS.items():
            found = {
                f.check for f in findings if f.check in checks and f"openings/{row.opening}" in (f.about, *f.subjects)
            }
            said = getattr(row, hazard)
            assert (said.word == "found") == bool(found)
            assert set(said.checks) >= found


def test_what_is_nowhere_found_and_nowhere_unknown_is_passed():
    checked = judged(ROOT / "examples" / "checks" / "hand-lock-fitted" / "bad.yaml")
    (row, *_) = hazards(checked.figures, checked.verdicts, checked.findings)
    assert row.force.word == "found"
    assert "hand-lock-fitted" in row.force.checks


def test_margins_are_of_what_keeps_its_limit_and_come_nearest_first():
    """Whatever is found as a figure over its limit is no margin; of the printed figures each is the one printed."""
    checked = judged(HALL / "as-commissioned.yaml")
    known: Figures = checked.figures
    told = margins(known)
    assert [m.used for m in told] == sorted((m.used for m in told), reverse=True)
    assert all(m.used <= 1 + 1e-9 for m in told)
    volts = {m.about.split("/")[1]: m.figure for m in told if m.what == "lowest voltage"}
    printed = {key: figure.voltage_at_peak_v for key, figure in known.printed.actuators.items()}
    assert all(volts[key] == pytest.approx(printed[key], abs=1e-3) for key in volts)
    missed = {(f.about, f.unit) for f in checked.findings if f.figure is not None}
    assert not missed & {(m.about, m.unit) for m in told if m.what in ("lowest voltage", "gap against a fall")}
