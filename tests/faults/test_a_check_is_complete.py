"""Adding a check touches its file, two examples, a row and a planter: what is missing is named, all at once."""

import re
import sys
from pathlib import Path

import pytest
from study import PLANTERS

from zonecfg.checks.registry import entries

ROOT = Path(__file__).parents[2]
PLACES = (ROOT / "tests" / "checks" / "test_places.py").read_text("utf-8")
SENTENCES = (ROOT / "tests" / "checks" / "sentences.txt").read_text("utf-8")


def missing(check_id: str) -> list[str]:
    """List what a check still lacks, in the order of the guide."""
    entry = entries()[check_id]
    home = f"zonecfg/checks/{entry.family}/{check_id.replace('-', '_')}.py"
    lacks = [] if (ROOT / home).exists() else [home]
    lacks += [
        f"examples/checks/{check_id}/{name}.yaml"
        for name in ("good", "bad")
        if not (ROOT / "examples" / "checks" / check_id / f"{name}.yaml").exists()
    ]
    if not (ROOT / home).exists() or entry.problems is not None:  # others find the rest, and their tests are their own
        lacks += (
            [] if re.search(rf"^{check_id}[ /\n]", PLACES, re.MULTILINE) else ["a row in tests/checks/test_places.py"]
        )
        lacks += (
            []
            if re.search(rf"^{check_id}[ /\n]", SENTENCES, re.MULTILINE)
            else ["a block in tests/checks/sentences.txt"]
        )
    return lacks + ([] if check_id in PLANTERS else ["a planter in tests/faults/"])


@pytest.mark.parametrize("check_id", entries())
def test_nothing_is_missing(check_id):
    assert missing(check_id) == []


def test_what_is_missing_is_named(monkeypatch):
    """A check of which there is nothing but its entry."""
    some = next(iter(entries().values()))
    monkeypatch.setitem(
        vars(sys.modules[__name__]), "entries", lambda: {"window-too-blue": type(some)("window-too-blue", "sash")}
    )
    assert missing("window-too-blue") == [
        "zonecfg/checks/sash/window_too_blue.py",
        "examples/checks/window-too-blue/good.yaml",
        "examples/checks/window-too-blue/bad.yaml",
        "a row in tests/checks/test_places.py",
        "a block in tests/checks/sentences.txt",
        "a planter in tests/faults/",
    ]
