"""What two sides make together, case by case in ``merges.txt``.

A block says how each side differs from the library of the examples (``base`` is what all three begin with besides); then
come the conflicts, with what stood there and on each side, and how the result differs from the base: ``both`` where it is
one text, else as it stands with conflicts decided for ours and for theirs. What ours alone changed stands in both.
"""

import json
from copy import deepcopy
from pathlib import Path

import pytest
from plans import changed

from zonecfg.compare.merge import merged_data
from zonecfg.compare.patch import patch
from zonecfg.compare.sides import ABSENT
from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar

LIBRARY = Path(__file__).parents[2] / "examples" / "compare" / "regrouped" / "before.yaml"
BLOCKS = (Path(__file__).parent / "merges.txt").read_text("utf-8").strip().split("\n\n")


def three_of(head):
    base = read(LIBRARY.read_bytes(), LIBRARY.name, grammar().as_written).data
    edits = [part.split(" ", 1) for part in head.split(" | ")]
    changed(base, [change for side, change in edits if side == "base"])
    return (base, *(changed(deepcopy(base), [c for of, c in edits if of == side]) for side in ("ours", "theirs")))


def shown(value):
    return "-" if value is ABSENT else json.dumps(value, ensure_ascii=False)


def told(base, ours, theirs):
    found = merged_data(base, ours, theirs)
    lines = [
        f"conflict {conflict.at}: {' | '.join(shown(value) for value in (conflict.base, conflict.ours, conflict.theirs))}"
        for conflict in found.conflicts
    ]
    first, second = (
        [f"{o['op']} {o['path']} {json.dumps(o['value'], ensure_ascii=False) if 'value' in o else ''}".strip()
         for o in patch(base, result)]
        for result in (found.ours, found.theirs)
    )  # fmt: skip
    lines += [f"both {line}" for line in first if line in second]
    lines += [f"ours {line}" for line in first if line not in second]
    return lines + [f"theirs {line}" for line in second if line not in first]


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: block.partition("\n")[0][:80])
def test_merge(block):
    head, *lines = (line.strip() for line in block.splitlines())
    assert told(*three_of(head)) == lines


def test_without_a_base_both_sides_are_added():
    _, ours, theirs = three_of("ours site/revision: C | theirs rooms/hall: {use: office}")
    found = merged_data({}, ours, theirs)
    assert [(c.at, c.base, c.ours, c.theirs) for c in found.conflicts] == [("/site/revision", ABSENT, "C", "B")]
    assert found.ours["rooms"] == theirs["rooms"]


def test_what_is_in_dispute_from_outside_is_not_put_together():
    sides = three_of(
        "ours actuators/A-103/stroke_mm: 1 | theirs actuators/A-103/type: other | theirs rooms/library/use: office"
    )
    assert merged_data(*sides).conflicts == ()
    (conflict,) = merged_data(*sides, disputed=[("actuators", "A-103")]).conflicts
    assert conflict.path == ("actuators", "A-103")
    assert (conflict.ours["stroke_mm"], conflict.theirs["stroke_mm"]) == (1, 250)
