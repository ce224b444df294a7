"""Where nodes stand, against the marks of libyaml's own composer (``yaml.compose`` with ``CLoader``)."""

from collections.abc import Iterator
from typing import Any

import pytest
import yaml
from hypothesis import assume, given, settings
from sites import as_yaml, site_text
from strategies import sites
from yaml_texts import documents

from zonecfg.document.reader import Document, read
from zonecfg.results.pointer import join


def marks(node: Any, pointer: str = "", key: Any = None) -> Iterator[tuple[str, Any, Any]]:
    """Give every node of libyaml's tree: its pointer, its key's node, itself. Duplicates are not followed."""
    yield pointer, key, node
    if isinstance(node, yaml.MappingNode):
        for name, value in node.value:
            yield from marks(value, pointer + join(name.value), name)
    elif isinstance(node, yaml.SequenceNode):
        for index, item in enumerate(node.value):
            yield from marks(item, pointer + join(index))


def expected_place(key: Any, node: Any) -> tuple[int, int, int | None]:
    """A scalar's own place; where it has none on one line, and for a mapping or list, that of its key."""
    own = node.start_mark, node.end_mark
    wide = isinstance(node, yaml.ScalarNode) and own[0].line == own[1].line and own[1].column > own[0].column
    start, end = own if wide or key is None else (key.start_mark, key.end_mark)
    flat = isinstance(node if start is own[0] else key, yaml.ScalarNode) and start.line == end.line
    return start.line + 1, start.column + 1, end.column + 1 if flat and end.column > start.column else None


def assert_places(text: str, document: Document) -> None:
    """Compare every node of a text."""
    for pointer, key, node in marks(yaml.compose(text, Loader=yaml.CLoader)):
        assert document.places.of(pointer) == expected_place(key, node), pointer
        if key is not None:
            place = document.places.of_key(pointer)
            assert (place.line, place.column) == (key.start_mark.line + 1, key.start_mark.column + 1), pointer


@settings(max_examples=300)
@given(documents())
def test_every_node_of_drawn_texts(text):
    document = read(text.encode(), "plan.yaml")
    assume(not [f for f in document.faults if f.severity == "error"])
    assert_places(text, document)


@settings(max_examples=40)
@given(sites())
def test_every_node_of_drawn_sites(data):
    text = as_yaml(data)
    assert_places(text, read(text.encode(), "plan.yaml"))


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"], ids=["LF", "CRLF", "CR"])
def test_every_node_of_a_site_whatever_the_line_ends(ending):
    text = site_text(60, state="as-commissioned").replace("\n", ending)
    assert_places(text, read(text.encode(), "plan.yaml"))


def test_columns_count_signs_not_bytes():
    """Code points, as editors and SARIF's columnKind count; this place is counted by hand."""
    places = read('x-crèche: {窓: "😀", b: c}\n'.encode(), "f").places
    assert places.of("/x-crèche/窓") == (1, 15, 18)
    assert places.of("/x-crèche/b") == (1, 23, 24)


def test_a_byte_order_mark_takes_no_column():
    assert read(b"\xef\xbb\xbfa: b\n", "f").places.of("/a") == (1, 4, 5)


def test_long_lines_keep_their_columns():
    """A plan on one line of 10,000 signs and more: counted by hand from the parts it is made of."""
    parts = [f"K{number:05}: v" for number in range(2_000)]
    places = read(("{" + ", ".join(parts) + "}\n").encode(), "f").places
    for number in (0, 1, 499, 1_999):
        assert places.of(f"/K{number:05}") == (1, 2 + number * 11 + 8, 2 + number * 11 + 9)


def test_a_value_of_many_signs_has_its_whole_width():
    places = read(b"a: " + b"v" * 9_000 + b"\n", "f").places
    assert places.of("/a") == (1, 4, 9_004)


@pytest.mark.parametrize(
    ("pointer", "place"),
    [("/a", (1, 1, 2)), ("/a/b/0", (3, 5, 6)), ("/a/nowhere/else", (1, 1, 2)), ("/a/b/7", (2, 3, 4)),
     ("/nothing", (1, 1, None)), ("", (1, 1, None))],
)  # fmt: skip
def test_what_is_not_there_stands_at_the_nearest_node_above(pointer, place):
    """By hand, from the rule: the nearest node above where there is none such."""
    assert read(b"a:\n  b:\n  - c\n", "f").places.of(pointer) == place


def test_escaped_pointers():
    """RFC 6901: ~1 is /, ~0 is ~, and ~01 is ~1."""
    places = read(b"x-a/b: 1\nx-m~n: 2\nx-~1: 3\n", "f").places
    assert [places.of(p).line for p in ("/x-a~1b", "/x-m~0n", "/x-~01")] == [1, 2, 3]


def test_lines_are_quoted_as_written():
    """Line numbers that libyaml gives and lines cut from the text must be the same lines."""
    document = read("a: 1\r\nb: 'x\r\n  y'\r\n# last: crèche".encode(), "f")
    assert [document.places.line(n) for n in range(6)] == ["", "a: 1", "b: 'x", "  y'", "# last: crèche", ""]
