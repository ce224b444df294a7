"""What is read, against an independent parser of YAML 1.2: ruamel.yaml's pure Python one."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML, YAMLError
from ruamel.yaml.nodes import MappingNode, ScalarNode
from yaml_texts import PLAIN, documents

from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar


def by_ruamel(text: str) -> Any:
    """Read by ruamel.yaml, version 1.2. Keys are taken as written, as the format asks; values as it resolves them."""
    yaml = YAML(typ="safe", pure=True)
    yaml.version = (1, 2)
    node = yaml.compose(text.removeprefix("\ufeff"))
    return _data(node, yaml.constructor)


def _data(node: Any, constructor: Any) -> Any:
    if isinstance(node, ScalarNode):
        return constructor.construct_object(node, deep=True)
    if isinstance(node, MappingNode):
        return {key.value: _data(value, constructor) for key, value in node.value}
    return [_data(item, constructor) for item in node.value]


def same(one: Any, other: Any) -> bool:
    """Equal in value and in kind: 1, 1.0 and true are three things, and -0.0 is not 0.0."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return one == other and math.copysign(1, one) == math.copysign(1, other)
    return type(one) is type(other) and one == other


@settings(max_examples=400)
@given(documents())
def test_data_is_what_yaml_1_2_has(text):
    document = read(text.encode(), "plan.yaml")
    unreadable = [f for f in document.faults if f.check == "unreadable-file"]
    try:
        expected = by_ruamel(text)
    except YAMLError:
        assert unreadable, f"ruamel.yaml refuses what was read as {document.data!r}"
        return
    if unreadable:  # libyaml refuses some of YAML 1.2; it must say so and not guess
        assert document.data is None
        return
    assert same(document.data, expected), (document.data, expected)


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"], ids=["LF", "CRLF", "CR"])
@pytest.mark.parametrize("bom", ["", "\ufeff"], ids=["", "BOM"])
def test_most_drawn_documents_are_read(ending, bom):
    """The law above is not kept by refusing everything: a page of every style is read as ruamel.yaml reads it."""
    lines = [
        "# head", "x-data:", "  101: [1, '1', \"\\u0031\", 1.0]     # numbers", "  no: {a: , b: ~, 'c d': no, e: }", "",
        "  2.OG-03: |", "    as", "      written", "  folded: >-", "    one", "    line", "", "    two",
        "  list:", "  - - nested", "    - - deep", "  - key: value", "    other:", "      x",
        '  "quoted: key": \'it\'\'s\'', "  ? asked", "  : told", "  crèche: 窓 😀",
    ]  # fmt: skip
    text = bom + ending.join(lines) + ending
    document = read(text.encode(), "plan.yaml")
    assert [f for f in document.faults if f.severity == "error"] == []
    assert same(document.data, by_ruamel(text))


@pytest.mark.parametrize("text", PLAIN)
def test_plain_scalar(text):
    """The core schema of YAML 1.2.2, section 10.3.2, as ruamel.yaml reads it."""
    page = f"x-data: {{}}\nx-a:\n  x: {text}\n"
    document = read(page.encode(), "plan.yaml")
    assert same(document.data, by_ruamel(page))


# Where ruamel.yaml goes further than the core schema, the table of YAML 1.2.2, section 10.3.2, is the source:
# int is [-+]?[0-9]+ or 0o[0-7]+ or 0x[0-9a-fA-F]+, float [-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?.
@pytest.mark.parametrize(
    ("text", "value"),
    [("1_000", "1_000"), ("2026-05-14", "2026-05-14"), ("0b11", "0b11"), ("-0x1F", "-0x1F"), ("+0o7", "+0o7"), ("=",
     "="),
     ("-.5e+3", -500.0), ("1e3", 1000.0), ("0o17", 15), ("0x1f", 31), ("1.", 1.0), (".", "."), ("+", "+"), ("-.", "-."),
     ("1__", "1__"), ("0X1F", "0X1F"), ("0O7", "0O7"), (".5.", ".5."), ("1e+", "1e+"), ("NULL", None), ("nULL",
      "nULL")],
)  # fmt: skip
def test_core_schema(text, value):
    assert same(read(f"x-o: {{a: {text}}}\n".encode(), "f").data, {"x-o": {"a": value}})


@given(st.text(st.sampled_from("0123456789abcdefABCDEFxoXOeE+-._:~=<"), min_size=1, max_size=9))
@settings(max_examples=600)
def test_numbers_by_the_table_of_yaml_1_2_2(text):
    """The four regular expressions of YAML 1.2.2, section 10.3.2, copied from there; all else is text."""
    from re import fullmatch

    from zonecfg.document.scalars import resolve

    value = resolve(text)
    if text in {"~", "null", "Null", "NULL"}:
        assert value is None
    elif fullmatch(r"[-+]?[0-9]+", text):
        assert type(value) is int
        assert value == int(text, 10)
    elif fullmatch(r"0o[0-7]+", text) or fullmatch(r"0x[0-9a-fA-F]+", text):
        assert type(value) is int
        assert value == int(text[2:], 8 if text[1] == "o" else 16)
    elif fullmatch(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", text):
        assert type(value) is float
        assert value == float(text)
    else:
        assert value == text


class TestAsWritten:
    """Serials, references and names keep what a label says (the plan's own format)."""

    def test_numbers_stay_as_written_in_named_fields_and_lists(self):
        text = "serial: 0070\nfrom: 101\nlist: [101, 1e3, true]\nwidth_mm: 0900\n101: {room: 7}\n"
        data = read(text.encode(), "f", grammar().as_written).data
        assert data == {
            "serial": "0070",
            "from": "101",
            "list": ["101", "1e3", "true"],
            "width_mm": 900,
            "101": {"room": "7"},
        }

    def test_below_own_keys_every_value_is_as_yaml_has_it(self):
        data = read(b"x-mine: {serial: 0070, list: [1, true, ~]}\n", "f", grammar().as_written).data
        assert data == {"x-mine": {"serial": 70, "list": [1, True, None]}}

    def test_a_missing_name_is_not_the_text_of_nothing(self):
        assert read(b"serial:\nroom: ~\n", "f", grammar().as_written).data == {"serial": None, "room": None}

    @given(st.sampled_from([*PLAIN]))
    def test_a_plain_word_in_a_named_field_is_text_or_nothing(self, text):
        data = read(f"{{serial: '{text.replace(chr(39), chr(39) * 2)}'}}".encode(), "f", grammar().as_written).data
        assert data == {"serial": text}
