"""The Python API: each command as a function of the same name, and the values they give.

A function is imported when it is first asked for, so that importing this module costs next to nothing. Each says in its
own docstring what it takes, gives and raises. Whatever cannot go on raises a ``zonecfg.errors.ZonecfgError``; whatever
is wrong in a plan is a finding.

Examples
--------
>>> from datetime import date
>>> from pathlib import Path
>>> from zonecfg.api import check
>>> outcome = check([Path("examples/checks/sash-actuators-split/bad.yaml")], date(2026, 11, 25))
>>> [(found.check, found.about, found.line) for found in outcome.findings.findings]
[('sash-actuators-split', 'openings/W-01', 25)]
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from zonecfg.results.change import Change, Changes
    from zonecfg.results.comparison import Comparison
    from zonecfg.results.cured import Cured
    from zonecfg.results.drafted import DraftAnswer
    from zonecfg.results.finding import Finding, Findings, NotChecked
    from zonecfg.results.history import History
    from zonecfg.results.identified import Identified
    from zonecfg.results.matched import Matched
    from zonecfg.results.outcome import Outcome
    from zonecfg.results.recorded import Recorded
    from zonecfg.results.written import Written
    from zonecfg.workflow.check import check
    from zonecfg.workflow.compare import compare
    from zonecfg.workflow.cure import cure
    from zonecfg.workflow.draft import draft
    from zonecfg.workflow.explain import explain
    from zonecfg.workflow.figures import figures
    from zonecfg.workflow.history import history
    from zonecfg.workflow.identify import identify
    from zonecfg.workflow.match import match
    from zonecfg.workflow.record import record
    from zonecfg.workflow.rehearse import rehearse
    from zonecfg.workflow.review import review
    from zonecfg.workflow.rollback import rollback
    from zonecfg.workflow.worksheet import worksheet

__all__ = [
    "Change", "Changes", "Comparison", "Cured", "DraftAnswer", "Finding", "Findings", "History", "Identified",
    "Matched", "NotChecked", "Outcome", "Recorded", "Written", "check", "compare", "cure", "draft", "explain",
    "figures", "history", "identify", "match", "record", "rehearse", "review", "rollback", "worksheet",
]  # fmt: skip

_HOMES = {
    **dict.fromkeys(("Change", "Changes"), "results.change"),
    **dict.fromkeys(("Finding", "Findings", "NotChecked"), "results.finding"),
    "Comparison": "results.comparison",
    "Cured": "results.cured",
    "DraftAnswer": "results.drafted",
    "History": "results.history",
    "Identified": "results.identified",
    "Matched": "results.matched",
    "Outcome": "results.outcome",
    "Recorded": "results.recorded",
    "Written": "results.written",
}


def __getattr__(name: str) -> Any:
    """Import what is asked for."""
    if name not in __all__:
        raise AttributeError(f"{__name__} has no {name}")
    return getattr(import_module(f"zonecfg.{_HOMES.get(name, f'workflow.{name}')}"), name)
