"""What is found does not depend on the order in which a file lists its things: the same faults about the same things.

The plans are those of the examples, so that every check is among them; each is turned round, then shuffled.
"""

import random
import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sites import as_yaml, plant, site_data

from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar
from zonecfg.workflow.check import check_state
from zonecfg.workflow.load import Loader

EXAMPLES = sorted((Path(__file__).parents[2] / "examples" / "checks").glob("*/bad.yaml"))


_LINES = re.compile(r" ?\(lines? [0-9, ]+\)")
"""Where a message says a line of another place."""


def found(data, path):
    document = read(as_yaml(data).encode(), "plan.yaml", grammar().as_written)
    checked = check_state(Loader().state_of(document, path), date(2026, 11, 25))
    return sorted((f.check, f.about, f.severity, _LINES.sub("", f.message)) for f in checked.findings)


def in_another_order(data, order):
    """The same plan, the ids of every section in another order; what stands in a list stays."""
    sections = {*grammar().things, "links"}
    return {key: dict(order(list(value.items()))) if key in sections else value for key, value in data.items()}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_the_same_findings_in_any_order(path):
    document = read(path.read_bytes(), "plan.yaml", grammar().as_written)
    if not isinstance(document.data, dict) or not all(
        isinstance(value, dict) for key, value in document.data.items() if key in grammar().things
    ):
        pytest.skip("the example cannot be read, or a section of it is none")
    chance = random.Random(path.parent.name)
    told = found(document.data, path)
    for order in (lambda items: items[::-1], lambda items: chance.sample(items, len(items))):
        assert found(in_another_order(document.data, order), path) == told


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.sampled_from([8, 20]), st.integers(0, 4), st.randoms(use_true_random=False))
def test_the_same_findings_in_any_order_of_a_generated_site(seed, actuators, faults, chance):
    """Sites with planted faults, turned about as a whole: by section, and by id within each."""
    data = site_data(actuators, seed=seed)
    plant(data, faults)
    path = Path("plan.yaml")
    told = found(data, path)
    turned = in_another_order(data, lambda items: chance.sample(items, len(items)))
    assert found(dict(chance.sample(list(turned.items()), len(turned))), path) == told
