"""A value of the wrong shape is not known: it is neither guessed at nor passed over in silence.

The law, over every example of a check and every value in it: where the value is put into a wrong shape, a check may
find less than before, and then says that it did not check; it never finds something else. The format's own words: a
field of the wrong shape counts as unknown, and checks that need it are listed under ``not_checked``.
"""

import copy
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from marked_examples import cases
from sites import as_yaml

from zonecfg.checks.registry import entries
from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar
from zonecfg.results.finding import Findings
from zonecfg.workflow.check import check_state, outcome_of
from zonecfg.workflow.load import Loader

TODAY = date(2026, 11, 25)
READING = {entry.check.id for entry in entries().values() if entry.family == "reading"}
# Families that keep the law. An acceptance follows the finding it speaks of: where that is not known, acceptance-unused
# says that it could not be judged.
HELD = {"membership", "weather", "commissioning", "sash", "air", "power", "bus"}
# Whose faults are not told by the plan's own things: a wrong acceptance accepts nothing, which is what it should.
_LEFT_OUT = {"format", "state", "accepted", "site"}
_WRONG: Any = ["neither", {"this": "nor that"}]


def judged(data: Any, path: Path) -> Findings:
    """Check data as if it stood in a file."""
    document = read(as_yaml(data).encode(), path.name, grammar().as_written)
    assert document.data is not None
    return outcome_of([check_state(Loader().state_of(document, path), TODAY)]).findings


def places(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Give the path of every value below the sections."""
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        if path or key not in _LEFT_OUT:
            yield (*path, key)
            yield from places(value, (*path, key))


def spoilt(data: Any, path: tuple[Any, ...]) -> Any:
    """Copy data with one value put into a shape that no field has."""
    copied = copy.deepcopy(data)
    holder = copied
    for step in path[:-1]:
        holder = holder[step]
    holder[path[-1]] = copy.deepcopy(_WRONG)
    return copied


def _held(answer: Findings) -> set[tuple[str, str]]:
    return {
        (f.check, f.about)
        for f in answer.findings
        if entries()[f.check].family in HELD or f.check == "acceptance-unused"
    }


def _readable(case: Path) -> bool:
    document = read(case.read_bytes(), case.name, grammar().as_written)
    return not document.faults and isinstance(document.data, dict) and "catalogue" not in document.data


CASES = [case for case in cases() if case.parent.name not in {*READING, "house-rule"} and _readable(case)]


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.parent.name}/{case.stem}")
def test_never_guessed_never_silent(case):
    data = read(case.read_bytes(), case.name, grammar().as_written).data
    before = _held(judged(data, case))
    for path in places(data):
        answer = judged(spoilt(data, path), case)
        told = {(f.check, f.at) for f in answer.findings if f.check in READING}
        assert told, f"nothing is said of {path}"
        after = _held(answer)
        assert after <= before, f"{path} made {sorted(after - before)}"
        unchecked = {entry.check for entry in answer.not_checked}
        silent = {check for check, _ in before - after if check not in unchecked and check != "acceptance-unused"}
        assert not silent, f"{path} silenced {sorted(silent)}"
