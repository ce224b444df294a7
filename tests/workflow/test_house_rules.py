"""The team's own rules: JSON Schemas of any draft, judged on the data of a plan as it is.

What is valid and what is not follows the specifications (draft 7; 2020-12), each case written down by hand.
"""

from __future__ import annotations

import json
from datetime import date

import pytest
from plans import plan
from sites import as_yaml

from zonecfg.workflow.check import check

TODAY = date(2026, 11, 25)
NEWER, OLDER = "https://json-schema.org/draft/2020-12/schema", "http://json-schema.org/draft-07/schema#"


@pytest.fixture
def found(tmp_path):
    (tmp_path / ".git").mkdir()

    def judge(schema, *, name="rules.json", files=(), **sections):
        for other, text in files:
            (tmp_path / other).write_text(json.dumps(text), "utf-8")
        text = schema if isinstance(schema, str) else json.dumps(schema)
        (tmp_path / "rules.json").write_text(text, "utf-8")
        data = {**plan(**sections), "house": [name]}
        (tmp_path / "site.yaml").write_text(as_yaml(data), "utf-8")
        answer = check([tmp_path / "site.yaml"], TODAY).findings.findings
        return [f for f in answer if f.check == "house-rule"]

    return judge


def actuators(rule, draft=NEWER, **more):
    return {"$schema": draft, "properties": {"actuators": {"additionalProperties": rule}}, **more}


def test_what_is_asked_of_every_actuator(found):
    (told,) = found(actuators({"required": ["x-asset"]}))
    assert (told.severity, told.at, told.subjects) == ("error", "/actuators/A-1", ("actuators/A-1",))
    assert told.about == "actuators/A-1 rules.json#/properties/actuators/additionalProperties/required"
    assert told.line is not None


def test_words_and_severity_are_those_of_the_nearest_subschema(found):
    rule = actuators(
        {"required": ["x-asset"], "x-severity": "note"}, **{"x-message": "ask the caretaker", "x-severity": "warning"}
    )
    (told,) = found(rule)
    assert told.severity == "note"
    assert told.message.startswith("ask the caretaker: ")
    (told,) = found(actuators({"required": ["x-asset"], "x-severity": "grave"}))
    assert told.severity == "error"  # no such word


@pytest.mark.parametrize(("draft", "keyword"), [(OLDER, "dependencies"), (NEWER, "dependentRequired")])
def test_each_draft_has_its_own_keywords(found, draft, keyword):
    """``dependencies`` is of draft 7, ``dependentRequired`` of 2020-12; each is nothing in the other."""
    assert len(found(actuators({keyword: {"opening": ["x-asset"]}}, draft))) == 1
    other = {"dependencies": "dependentRequired", "dependentRequired": "dependencies"}[keyword]
    if other == "dependentRequired":
        assert found(actuators({other: {"opening": ["x-asset"]}}, draft)) == []


def test_a_reference_within_and_to_a_file_beside(found):
    inside = actuators({"$ref": "#/$defs/asset"}, **{"$defs": {"asset": {"required": ["x-asset"]}}})
    assert len(found(inside)) == 1
    assert len(found(actuators({"$ref": "other.json"}), files=[("other.json", {"required": ["x-asset"]})])) == 1


@pytest.mark.parametrize(
    "target", ["https://example.org/schema.json", "file:///etc/passwd", "../../../outside.json", "nowhere.json"]
)
def test_a_reference_that_leads_out_is_one_fault_of_the_schema(found, target):
    (told,) = found(actuators({"$ref": target}))
    assert (told.about, told.at, told.severity) == ("house/rules.json", "/house/0", "error")


@pytest.mark.parametrize(
    "schema", ["{", "[]", '"text"', {"type": "nothing"}, {"properties": 3}, {"$ref": "#"}, "[" * 100_000]
)
def test_what_is_no_schema_is_one_fault(found, schema):
    told = found(schema)
    assert [f.about for f in told] in (["house/rules.json"], [])
    assert told or schema == {"$ref": "#"}


@pytest.mark.parametrize("name", ["nowhere.json", "../outside.json", "/etc/passwd", "rules.txt"])
def test_a_schema_that_is_not_there(found, name):
    (told,) = found({}, name=name)
    assert told.about == f"house/{name}"


def test_a_pattern_that_backtracks_for_ever_is_cut_off(found):
    rule = {"$schema": NEWER, "properties": {"site": {"properties": {"name": {"pattern": "^(a+)+$"}}}}}
    (told,) = found(rule, site={"name": "a" * 40 + "!"})
    assert "cut off" in told.message


def test_it_is_accepted_like_any_other(found):
    accepted = [
        {"check": "house-rule", "at": "/actuators/A-1", "because": "a loan", "by": "designer", "until": "2027-01-01"}
    ]
    (told,) = found(actuators({"required": ["x-asset"]}), accepted=accepted)
    assert (told.accepted, told.accepted_by) == ("a loan", "designer")


def test_a_thousand_faults_are_cut_and_that_is_said(found):
    things = {f"W-{n}": {"type": "sash", "room": "room"} for n in range(700)}
    told = found({"properties": {"openings": {"additionalProperties": {"required": ["x-mark"]}}}}, openings=things)
    assert len(told) == 501
    assert "more than 500" in next(f for f in told if f.about == "house/rules.json").message
