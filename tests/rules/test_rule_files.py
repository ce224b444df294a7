"""The rule set files themselves: every file has every field, and a name outside the folder is no rule set."""

import json
from pathlib import Path

import msgspec
import pytest

import zonecfg.rules
from zonecfg.errors import UnknownName
from zonecfg.rules import EscapeRule, FallRule, RuleSet, VentilationRule, known, rule_set
from zonecfg.rules.escape import EscapeLimits
from zonecfg.rules.falls import FallAsks, FallClause
from zonecfg.rules.head import WrittenFor
from zonecfg.rules.ventilation import Band

FOLDER = Path(zonecfg.rules.__file__).parent
USES = {"bedroom", "childcare", "living", "kitchen", "bath", "care", "office", "assembly", "teaching",
        "circulation", "other"}  # fmt: skip

every_rule = pytest.mark.parametrize("rule_id", known())


def read(rule_id: str) -> dict[str, object]:
    data: dict[str, object] = json.loads((FOLDER / f"{rule_id}.json").read_text(encoding="utf-8"))
    return data


def test_known() -> None:
    assert known("falls") == ("ADK-2013", "BS-8213-1", "IRC-R312.2", "NCC-2022-D3D29")
    assert known("ventilation") == ("ADF-2021-T1.4", "IRC-R303.1", "NCC-2022-HP-10.6.2")
    assert known("escape") == ("ADB-ESCAPE",)
    assert sorted(known("falls") + known("ventilation") + known("escape")) == list(known())


@every_rule
def test_every_file_has_every_field(rule_id: str) -> None:
    """Nothing is left to a default: what a rule does not ask stands there as null."""

    def whole(part: object, shape: type[msgspec.Struct], *more: str) -> None:
        assert isinstance(part, dict)
        assert list(part) == [*shape.__struct_encode_fields__[:1], *more, *shape.__struct_encode_fields__[1:]]

    data, ruled = read(rule_id), rule_set(rule_id)
    whole(data, type(ruled), "kind")
    whole(data["written_for"], WrittenFor)
    parts = {"clauses": FallClause, "bands": Band}
    for key, shape in parts.items():
        listed = data.get(key, [])
        assert isinstance(listed, list)
        for part in listed:
            whole(part, shape)
            if key == "clauses":
                whole(part["asks"], FallAsks)
    if isinstance(ruled, EscapeRule):
        whole(data["limits"], EscapeLimits)


@every_rule
def test_id_and_kind_are_the_files(rule_id: str) -> None:
    data = read(rule_id)
    assert data["id"] == rule_set(rule_id).id == rule_id
    assert data["kind"] == rule_set(rule_id).kind


@every_rule
def test_words_are_there(rule_id: str) -> None:
    ruled = rule_set(rule_id)
    for words in (ruled.title, ruled.edition, ruled.clause, ruled.source, ruled.written_for.buildings):
        assert words.strip()


def figures(ruled: RuleSet) -> list[tuple[tuple[str, ...], set[str]]]:
    """Give each list of secondary figures with the names it may use."""
    if isinstance(ruled, FallRule):
        return [
            (c.secondary, set(FallClause.__struct_fields__) | set(FallAsks.__struct_fields__)) for c in ruled.clauses
        ]
    if isinstance(ruled, VentilationRule):
        return [(ruled.secondary, set(Band.__struct_fields__))]
    return [(ruled.secondary, set(EscapeLimits.__struct_fields__))]


@every_rule
def test_secondary_names_figures(rule_id: str) -> None:
    ruled = rule_set(rule_id)
    for secondary, names in figures(ruled):
        assert set(secondary) <= names
        assert secondary or ruled.read == "read", "a secondary rule set marks its figures"


@every_rule
def test_uses_are_those_of_the_format(rule_id: str) -> None:
    ruled = rule_set(rule_id)
    assert set(ruled.written_for.uses or ()) <= USES
    if isinstance(ruled, FallRule):
        for clause in ruled.clauses:
            assert set(clause.uses or ()) <= USES


@pytest.mark.parametrize("rule_id", ["ADK-2014", "../rules/ADK-2013", "adk-2013", ""])
def test_no_such_rule_set(rule_id: str) -> None:
    with pytest.raises(UnknownName, match="no rule set"):
        rule_set(rule_id)
