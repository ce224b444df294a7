"""Benchmarks of the hot paths, run by hand: ``pytest tests/benchmarks --benchmark-only``."""

from datetime import date

import pytest
from sites import commissioned_text, site_text

from zonecfg.compare.differences import differences
from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar
from zonecfg.schema import faults
from zonecfg.workflow.check import check_state
from zonecfg.workflow.load import Loader

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module", params=[60, 1_000, 10_000])
def size(request):
    return request.param


@pytest.fixture(scope="module")
def states(size, tmp_path_factory):
    """Both states of a generated site, as read."""
    folder = tmp_path_factory.mktemp("site")
    path = folder / "as-designed.yaml"
    texts = site_text(size), commissioned_text(size)
    return [Loader().state_of(read(text.encode(), path.name, grammar().as_written), path) for text in texts]


def test_read(benchmark, size):
    raw = site_text(size).encode()
    assert benchmark(lambda: read(raw, "as-designed.yaml", grammar().as_written)).data is not None


def test_schema_gate(benchmark, states):
    assert benchmark(lambda: faults(states[0].document.data, "site", may_hold_own_keys=False)) == []


def test_judge(benchmark, states):
    assert benchmark(lambda: check_state(states[0], TODAY)).not_checked is not None


def test_differences(benchmark, states):
    assert benchmark(lambda: differences(states[0].site, states[1].site))[0]
