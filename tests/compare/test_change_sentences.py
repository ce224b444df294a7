"""What a person reads of a change, what it touches first, where it stands on both sides and what stands there.

A block of ``sentences.txt`` says how two sites differ that both begin as the library of the examples: ``<`` changes the first, ``>`` the
second, ``=`` both; a value left out takes the field out. Then come the changes told, and nothing else is told.
"""

import json
from copy import deepcopy
from pathlib import Path

import pytest
from plans import changed, site_of

from zonecfg.compare.differences import differences
from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar

LIBRARY = Path(__file__).parents[2] / "examples" / "compare" / "regrouped" / "before.yaml"
BLOCKS = (Path(__file__).parent / "sentences.txt").read_text("utf-8").strip().split("\n\n")


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: block.partition("\n")[0][:80])
def test_sentences(block):
    head, *sentences = (line.strip() for line in block.splitlines())
    before = read(LIBRARY.read_bytes(), LIBRARY.name, grammar().as_written).data
    after = deepcopy(before)
    for side, change in (part.split(" ", 1) for part in head.split(" | ")):
        for data, sides in ((before, "<="), (after, ">=")):
            if side in sides:
                changed(data, [change])
    assert [told(change) for change in differences(site_of(before), site_of(after))[0]] == sentences


def told(change):
    places = f"{change.at_before or '-'} {change.at_after or '-'}"
    values = f"{json.dumps(change.before)} > {json.dumps(change.after)}"
    what = f"{change.kind} {change.consequence} {change.section} {change.id} {change.field or '-'}"
    return f"{what}: {change.text} @ {places} = {values}"
