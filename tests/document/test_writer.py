"""Values set in a text: what is meant is there, and what is not meant stays byte for byte."""

import difflib

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.document.reader import read
from zonecfg.document.rewrite import rewritten
from zonecfg.document.values import with_values
from zonecfg.document.writer import scalar_text
from zonecfg.errors import CannotWrite


def put(text, values, order=None):
    document = read(text.encode(), "x.yaml", frozenset({"serial"}))
    assert document.data is not None
    return rewritten(
        document,
        with_values(document, values, order or {}),
        as_text=frozenset({"serial"}),
        quoted=frozenset({"serial"}),
    )[0]


@pytest.mark.parametrize(
    ("text", "values", "after"),
    [
        ("a: 1  # one\n", {"/a": 2}, "a: 2  # one\n"),
        ("a: 1", {"/b": 2}, "a: 1\n\nb: 2"),
        ("a: {b: 1}  # x\n", {"/a/c": True}, "a: {b: 1, c: true}  # x\n"),
        ("a: {b: 1,}\n", {"/a/c": 2}, "a: {b: 1, c: 2,}\n"),
        ("a: {}\n", {"/a/c": "x"}, "a: {c: x}\n"),
        ("a: {b: }\n", {"/a/b": "x"}, "a: {b: x }\n"),
        ("a: {b: , c: 1}\n", {"/a/d": 1}, "a: {b: , c: 1, d: 1}\n"),
        ("a:\n  b:\n  c: 1\n", {"/a/b": "x"}, "a:\n  b: x\n  c: 1\n"),
        ("a:   # none yet\nz: 1\n", {"/a/b/c": 1}, "a:   # none yet\n  b: {c: 1}\nz: 1\n"),
        (
            "a:\n    b: 1   # last\n    # for c\nz: 1\n",
            {"/a/d": 1},
            "a:\n    b: 1   # last\n    d: 1\n    # for c\nz: 1\n",
        ),
        ("a:\n  b: |\n    x\n\nz: 1\n", {"/a/c": 1}, "a:\n  b: |\n    x\n  c: 1\n\nz: 1\n"),
        ("a: 1\r\nb: {c: 1}\r\n", {"/b/d": 1, "/e": 1}, "a: 1\r\nb: {c: 1, d: 1}\r\n\r\ne: 1\r\n"),
        ("a: {b: [1, {c: 2}]}\n", {"/a/d": 1}, "a: {b: [1, {c: 2}], d: 1}\n"),
        ("é: {b: 'ü: x'}  # ✓ 𝄞\n", {"/é/b": "w", "/é/c": 1}, "é: {b: w, c: 1}  # ✓ 𝄞\n"),
        ("{a: 1}\n", {"/b/c": 1}, "{a: 1, b: {c: 1}}\n"),
        ("a: {serial: 0070}\n", {"/a/serial": "0070"}, "a: {serial: 0070}\n"),
        ("a: {serial: 0070}\n", {"/a/serial": "0071"}, 'a: {serial: "0071"}\n'),
        ('a: {b: "one\n   two"}\n', {"/a/b": "x"}, "a: {b: x}\n"),
        ("a:\n- 1\n- 2\nb: 1\n", {"/c": 1}, "a:\n- 1\n- 2\nb: 1\n\nc: 1\n"),
        ("a:\n- 1\n- 2   # two\n", {"/c": 1}, "a:\n- 1\n- 2   # two\n\nc: 1\n"),
    ],
)
def test_by_hand(text, values, after):
    assert put(text, values) == after


def test_new_keys_stand_where_they_belong():
    order = {"": ["a", "b", "c"], "/b": ["x", "w", "z"]}
    assert put("a: 1\nb: {x: 1, z: 1}\n", {"/b/w": 1, "/c": 1}, order) == "a: 1\nb: {x: 1, w: 1, z: 1}\n\nc: 1\n"
    assert put("a: 1\n# of c\nc: 1\n", {"/b/z": 1, "/b/x": 2}, order) == "a: 1\n\nb: {x: 2, z: 1}\n# of c\nc: 1\n"


def test_a_list_is_no_place_for_a_key():
    with pytest.raises(CannotWrite, match="line 1"):
        put("a: [1]\n", {"/a/b": 1})


@given(st.text(max_size=30).filter(lambda t: t.strip()))
def test_every_text_is_read_as_it_was(text):
    for key in ("serial", "by"):
        raw = f"{key}: {scalar_text(text, key, frozenset({'serial'}))}\n".encode()
        if any(ord(c) in (0xFFFE, 0xFFFF) or 0xD800 <= ord(c) < 0xE000 for c in text):
            continue
        assert read(raw, "x", frozenset({"serial"})).data == {key: text}


keys = st.sampled_from(["a", "b", "c", "A-1", "x y"])
leaves = st.one_of(st.integers(-9, 999), st.booleans(), st.sampled_from(["pass", "no", "0070", "a: b", "# x"]))
trees = st.recursive(leaves, lambda inner: st.dictionaries(keys, inner, min_size=1, max_size=4), max_leaves=8)


@given(
    st.dictionaries(keys, st.dictionaries(keys, trees, min_size=1, max_size=4), min_size=1, max_size=4),
    st.lists(st.tuples(keys, keys, leaves), min_size=1, max_size=6),
    st.sampled_from([None, False, True]),
)
def test_any_values_into_any_mapping(data, changes, flow):
    text = yaml.safe_dump(data, default_flow_style=flow, allow_unicode=True, width=1000)
    lines = [line + ("   # said" if n % 2 else "") for n, line in enumerate(text.split("\n")[:-1])]
    text = "# head\n" + "\n".join(lines) + "\n# tail"
    document = read(text.encode(), "x.yaml")
    if document.data is None or any(isinstance(document.data.get(a, {}).get(b), dict) for a, b, _ in changes):
        return
    values = {f"/{a}/{b}": value for a, b, value in changes}
    new, _ = rewritten(document, with_values(document, values, {}))
    for a, b, _ in changes:
        document.data.setdefault(a, {})[b] = values[f"/{a}/{b}"]
    assert read(new.encode(), "x.yaml").data == document.data
    comments = [line for line in difflib.ndiff(text.splitlines(), new.splitlines()) if line.startswith("- #")]
    assert comments == []
    assert new.count("# said") == text.count("# said")
