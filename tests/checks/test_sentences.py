"""What a person reads: ``sentences.txt`` has each check's whole sentences, and the corners that word them differently.

A block names a check, or one of its examples, and what is changed in it (a value left out takes the field out); then come
the sentences, behind @ where they stand and what belongs to them (of unchanged examples ``test_places.py`` says that),
and what is not checked for whom. Their figures are worked out by hand from those of the example; where a handbook figure
counts, the corner tests name its source.
"""

from pathlib import Path

import pytest
from plans import changed, example, problems, unknowns

BLOCKS = (Path(__file__).parent / "sentences.txt").read_text("utf-8").strip().split("\n\n")


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: block.partition("\n")[0])
def test_sentences(block):
    head, *sentences = (line.strip() for line in block.splitlines())
    name, *changes = head.split(" | ")
    check, data = name.partition("/")[0], changed(example(name), changes)
    told = [p.message + f" @ {' '.join((p.at, *p.related))}" * bool(changes) for p in problems(data, check)]
    told += [f"not checked: {u.because}: {' '.join(u.ids)}".rstrip() for u in dict.fromkeys(unknowns(data, check))]
    assert told == sentences
