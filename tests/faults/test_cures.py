"""Cures on random sites with a planted fault: what is cured is gone, and nothing else is new or worse."""

from __future__ import annotations

import random

import pytest
from planting import PLANTERS
from study import TODAY, case_of

from zonecfg.workflow.check import check
from zonecfg.workflow.cure import Chosen, cure


def open_findings(path):
    return {f.identity: f for f in check([path], TODAY).findings.findings if f.accepted is None}


@pytest.mark.parametrize("check_id", sorted(PLANTERS))
def test_no_cure_of_a_planted_fault_makes_anything_worse(check_id, tmp_path):
    """The judge is ``check`` on the text that was written."""
    planter = random.Random(check_id).choice(PLANTERS[check_id])
    case_of(planter, f"cure {check_id}", tmp_path)
    path = tmp_path / "site.yaml"
    if any(
        f.severity == "error" and f.check in {"unreadable-file", "duplicate-key"} for f in open_findings(path).values()
    ):
        return
    before = open_findings(path)
    answer = cure([path], TODAY, Chosen(agrees=lambda found, cure: True), write=True)
    made = {(made.check, made.about) for file in answer.files for made in file.made}
    after = open_findings(path)
    assert not made & after.keys()
    if not any(name == "unknown-key" for name, _ in made):
        assert not after.keys() - before.keys()
