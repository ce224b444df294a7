"""Two wings in one plan, nothing shared: each is judged as if it stood alone, whatever is found or lacking in the other."""

import pytest
from marked_examples import cases
from plans import example, problems, unknowns
from wings import joined, wing

from zonecfg.checks.registry import entries

# Where no cable says which supply feeds a smoke vent, any may: its two wings share them.
CHECKS = [entry.id for entry in entries().values() if entry.problems is not None and entry.id != "smoke-vent-unproven"]


def told(data, check):
    found = {(problem.about, problem.message) for problem in problems(data, check)}
    return found, {(unknown.because, name) for unknown in unknowns(data, check) for name in unknown.ids}


@pytest.mark.parametrize("check", CHECKS)
def test_side_by_side(check):
    """Every example of a check before and behind its bad one."""
    bad = example(check)
    east = wing(bad, "-east")
    found, lacking = told(joined(bad, east), check)
    assert found
    for path in cases():
        if path.parent.name == check:
            west = wing(example(f"{check}/{path.stem}"), "-west")
            also_found, also_lacking = told(joined(bad, west), check)
            expected = (found | also_found, lacking | also_lacking)
            assert told(joined(bad, west, east), check) == expected, path.stem
            assert told(joined(bad, east, west), check) == expected, path.stem
