"""The examples under ``examples/rehearsal/``: a plant, the weather, and what comes of it, worked out by hand."""

from pathlib import Path
from xml.etree import ElementTree as ET

import msgspec
import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from zonecfg.figures import Figures
from zonecfg.report.picture import picture
from zonecfg.results.rehearsal import position_at
from zonecfg.schema import schema_of
from zonecfg.workflow.load import Loader
from zonecfg.workflow.paths import find
from zonecfg.workflow.rehearse import rehearse

ROOT = Path(__file__).parents[2] / "examples" / "rehearsal"
CASES = sorted(path.name for path in ROOT.iterdir())


def expected_of(case):
    return YAML(typ="safe", pure=True).load((ROOT / case / "expected.yaml").read_text("utf-8"))


def outcome_of(case):
    return rehearse(ROOT / case / "site.yaml", wet=expected_of(case)["wet"])


@pytest.mark.parametrize("case", CASES)
def test_what_comes_of_the_weather(case):
    expected, answer = expected_of(case), outcome_of(case).rehearsal
    assert answer.settled_s == pytest.approx(expected["settled_s"])
    for group, moments in expected["positions"].items():
        for moment, percent in moments.items():
            assert position_at(answer.positions[group], moment) == pytest.approx(percent, abs=1e-6), (group, moment)
    for peak in answer.peaks:
        assert peak.current_a == pytest.approx(expected["peak_a"][peak.supply])
    assert {entry.opening: entry.because for entry in answer.open_in_rain} == expected["open_in_rain"]


@pytest.mark.parametrize("case", CASES)
def test_answer_fits_its_schema(case):
    data = msgspec.json.decode(msgspec.json.encode(outcome_of(case).rehearsal))
    Draft202012Validator(schema_of("rehearsal")).validate(data)


@pytest.mark.parametrize("case", CASES)
def test_picture_is_well_formed_and_names_every_group(case):
    outcome = outcome_of(case)
    drawn = ET.fromstring(picture(outcome))  # noqa: S314  (our own picture)
    words = {element.text for element in drawn.iter("{http://www.w3.org/2000/svg}text")}
    assert set(outcome.rehearsal.positions) <= words
    assert {f"rain at {spell.sensor}" for spell in outcome.rehearsal.spells} <= words


def test_currents_are_those_of_the_figures():
    """Where the controller moves everything a sensor closes at once, its peak is that of the figures' event."""
    path = ROOT / "one-shower" / "site.yaml"
    site = Loader().state(find(path)[0]).site
    peak = Figures(site).power.networks["PS-1"].peak.amp
    assert outcome_of("one-shower").rehearsal.peaks[0].current_a == pytest.approx(peak)
