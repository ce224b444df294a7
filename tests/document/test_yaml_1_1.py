"""The words that a reader of YAML 1.1 takes for something else, against such a reader: PyYAML's resolver.

PyYAML itself differs from the types that YAML 1.1 publishes (yaml.org/type) in two things: it leaves out the short
words ``y`` and ``n``, and floats whose point stands behind a sign or before no digit. And it resolves dates, whose text
every reader shows as it was written, so that they are not called ambiguous. These are tested by hand.
"""

import math
import re
from typing import Any

import pytest
import ruamel.yaml
import yaml
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from zonecfg.document.reader import read
from zonecfg.document.scalars import differs_in_yaml_1_1, in_yaml_1_1, resolve

WORDS = ("yes", "Yes", "YES", "no", "No", "NO", "on", "On", "ON", "off", "Off", "OFF", "true", "True", "TRUE", "false",
         "False", "FALSE", "null", "Null", "NULL", "~", ".inf", ".Inf", ".INF", "-.inf", "+.inf", ".nan", ".NaN",
         ".NAN",
         "yEs", "oN", "nO", "tRUE", "None", "none", "=", "<<", "yes.", "no-", "on1", "y", "n", "Y", "N")  # fmt: skip
_POINT = re.compile(r"[-+]\.|\.(?![0-9])")
_DATE = "tag:yaml.org,2002:timestamp"


def by_yaml_1_1(text: str) -> Any:
    """Read a plain scalar as PyYAML does; None apart from null where it is a date."""
    loader = yaml.SafeLoader("")
    try:
        node = yaml.ScalarNode(loader.resolve(yaml.ScalarNode, text, (True, False)), text)
        assume(node.tag != _DATE)
        if node.tag in {"tag:yaml.org,2002:value", "tag:yaml.org,2002:merge"}:
            return node.tag
        return loader.construct_object(node)
    finally:
        loader.dispose()


def differ(one: Any, other: Any) -> bool:
    """Whether two values are not one and the same figure or word; 1 and 1.0 are one figure."""
    numbers = (int, float)
    if isinstance(one, bool) or isinstance(other, bool):
        return one is not other
    if isinstance(one, numbers) and isinstance(other, numbers):
        return not (one == other or (math.isnan(one) and math.isnan(other)))
    return type(one) is not type(other) or one != other


@settings(max_examples=1_200)
@given(
    st.one_of(
        st.text(st.sampled_from("0123456789_.:-+eExob"), min_size=1, max_size=8),
        st.from_regex(r"\A[-+]?[0-9]{1,3}(:[0-9]{1,2}){0,3}(\.[0-9_]{0,3})?\Z"),
        st.from_regex(r"\A[-+]?0[box]?[0-9a-fA-F_]{0,5}\Z"),
        st.from_regex(r"\A[-+]?[0-9_]{0,4}\.[0-9_]{0,4}([eE][-+]?[0-9]{1,3})?\Z"),
        st.sampled_from(WORDS),
    )
)
def test_against_pyyaml(text):
    assume(text not in {"y", "n", "Y", "N", "<<"} and not _POINT.match(text))
    try:
        theirs = by_yaml_1_1(text)
    except ValueError:  # such as 0x_ or 0b_: PyYAML resolves a number and cannot make one
        theirs = "no value"
    assert differs_in_yaml_1_1(text) == differ(theirs, resolve(text)), (theirs, resolve(text))


@settings(max_examples=600)
@given(st.one_of(st.text(st.sampled_from("0123456789_.:-+eExob"), min_size=1, max_size=8), st.sampled_from(WORDS)))
def test_the_value_a_reader_of_yaml_1_1_sees(text):
    assume(text not in {"y", "n", "Y", "N", "<<", "="} and not _POINT.match(text))
    try:
        theirs = by_yaml_1_1(text)
    except ValueError:
        assume(False)
    assert not differ(in_yaml_1_1(text), theirs), (in_yaml_1_1(text), theirs)


@pytest.mark.parametrize(
    ("text", "serial", "seen"),
    [
        ("0017008", True, "the text 0017008 here, and the number 17008 to a reader of YAML 1.2; write it in quotes"),
        ("012", False, "the number 12 here, and the number 10 to a reader of YAML 1.1; write 12"),
        ("012", True, "the text 012 here, and the number 10 to a reader of YAML 1.1 and the number 12 to a reader of YAML 1.2; write it in quotes"),
        ("08", False, "the number 8 here, and the text 08 to a reader of YAML 1.1; write 8"),
        ("1:30", True, "the text 1:30 here, and the number 90 to a reader of YAML 1.1; write it in quotes"),
        ("no", True, "the text no here, and false to a reader of YAML 1.1; write it in quotes"),
    ],
)  # fmt: skip
def test_what_is_said_of_a_word_is_true_of_each_reader(text, serial, seen):
    """PyYAML reads YAML 1.1; ruamel.yaml, asked for a safe load, YAML 1.2."""
    key = "serial" if serial else "figure"
    (fault,) = read(f"{key}: {text}\n".encode(), "x", frozenset({"serial"})).faults
    assert fault.message == f"{text} is {seen}"
    for name, value in (
        ("YAML 1.1", yaml.safe_load(text)),
        ("YAML 1.2", ruamel.yaml.YAML(typ="safe", pure=True).load(text)),
    ):
        shown = (
            f"the text {value}"
            if isinstance(value, str)
            else str(value).lower()
            if value is False
            else f"the number {value}"
        )
        assert (f"{shown} to a reader of {name}" in seen) != (f"{shown} here" in seen)


@pytest.mark.parametrize("text", ["y", "Y", "n", "N"])
def test_short_words(text):
    """yaml.org/type/bool.html: y and n are booleans in YAML 1.1, whatever PyYAML makes of them."""
    assert differs_in_yaml_1_1(text)


@pytest.mark.parametrize(
    ("text", "differs"), [("-.5", False), ("+.25e+3", False), (".", True), ("._5", True), ("-.5_0", True)]
)
def test_points(text, differs):
    r"""yaml.org/type/float.html: [-+]?([0-9][0-9_]*)?\.[0-9.]*([eE][-+][0-9]+)? are floats of YAML 1.1."""
    assert differs_in_yaml_1_1(text) is differs


@pytest.mark.parametrize(
    ("text", "differs"), [("07", False), ("-01", False), ("00", False), ("08", True), ("010", True)]
)
def test_leading_zeros(text, differs):
    """yaml.org/type/int.html: 0[0-7_]+ is octal; up to 7 that is the same number, and 08 is none."""
    assert differs_in_yaml_1_1(text) is differs


@pytest.mark.parametrize("text", ["2026-05-14", "2026-5-1", "2026-05-14T10:00:00Z"])
def test_dates_are_left_alone(text):
    """yaml.org/type/timestamp.html; the plan's dates are in ISO 8601, whose text every reader prints back."""
    assert not differs_in_yaml_1_1(text)


@pytest.mark.parametrize(
    ("value", "seen"),
    [("no", "text no"), ("012", "number 12"), ("1:30", "text 1:30"), ("0o17", "number 15"), ("1_000", "text 1_000"),
     ("1e3", "number 1000"), ("ON", "text ON"), ("0b1", "text 0b1")],
)  # fmt: skip
def test_told_with_place_and_both_readings(value, seen):
    """012 is ten to YAML 1.1 and twelve to 1.2 (yaml.org/type/int.html; YAML 1.2.2, 10.3.2); place counted by hand."""
    document = read(f"x-a:\n  b: {value}\n".encode(), "f")
    (fault,) = document.faults
    assert (fault.check, fault.severity, fault.at, fault.line, fault.column, fault.end_column) == (
        "ambiguous-word", "warning", "/x-a/b", 2, 6, 6 + len(value),
    )  # fmt: skip
    assert seen in fault.message


@pytest.mark.parametrize("text", ["no: a\n", "012: a\n", "on: {off: a}\n"])
def test_keys_are_never_called_ambiguous(text):
    """Keys are always text as written; only values are warned of."""
    assert read(text.encode(), "f").faults == ()


@pytest.mark.parametrize("text", ["x: 'no'\n", 'x: "012"\n', "x: |\n  no\n", "x: nothing\n", "x: true\n", "x: 12\n"])
def test_what_both_read_alike_is_not_told(text):
    assert read(text.encode(), "f").faults == ()
