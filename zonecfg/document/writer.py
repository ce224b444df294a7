"""Values set in the text of a document: comments, order, style and everything not meant stay byte for byte."""

import codecs
import json
import re
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from typing import Any, NamedTuple

from zonecfg.document.chunks import column_of
from zonecfg.document.nodes import Node, nodes
from zonecfg.document.reader import Document, read
from zonecfg.document.scalars import differs_in_yaml_1_1, resolve
from zonecfg.document.text import BREAK
from zonecfg.errors import CannotWrite
from zonecfg.results.pointer import join, split

Scalar = str | bool | int | float
_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _./+-]*(?<! )\Z")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}\Z")
_QUOTED = frozenset({"serial", "firmware"})  # a label is text, whatever signs it is made of
_HIDDEN = re.compile("[\x7f-\x9f\u2028\u2029\ufeff]")


class Edit(NamedTuple):
    """A stretch of text, and what shall stand there instead."""

    start: int
    end: int
    text: str


def amended(
    document: Document,
    values: Mapping[str, Scalar],
    order: Mapping[str, Sequence[str]],
    as_text: AbstractSet[str] = frozenset(),
) -> str:
    """Set values in a document's text.

    Parameters
    ----------
    document
        A document without faults of reading.
    values
        JSON Pointer of a value below mappings, and what it shall be; what is missing above it is made.
    order
        Pointer of a mapping, and the order its keys belong in where new ones are put in; others go to its end.
    as_text
        Keys whose plain values stay as written, as the document was read with.

    Returns
    -------
    str
        The text, byte order mark included. Read again it holds what the document held and the values.

    Raises
    ------
    CannotWrite
        A place cannot be changed in its text alone; the message names its line.
    """
    raw = document.places.text
    text = raw.removeprefix(codecs.BOM_UTF8).decode()
    wanted = _changed(document.data, values)
    found = BREAK.search(text)
    edits = sorted(
        _edits(text, nodes(text), _ordered(_nested(wanted), order), order, found[0] if found else "\n"),
        key=lambda e: e[:2],
    )
    new = applied(text, edits, document.file)
    new = "\ufeff" + new if raw.startswith(codecs.BOM_UTF8) else new
    verify(document, new.encode(), wanted, as_text)
    return new


def applied(text: str, edits: Sequence[Edit], file: str) -> str:
    """Make edits that stand in the order of the text.

    Raises
    ------
    CannotWrite
        Two of them overlap.
    """
    parts, done = [], 0
    for edit in edits:
        if edit.start < done:
            raise CannotWrite(f"{file}: two changes fall on one place")
        parts += [text[done : edit.start], edit.text]
        done = edit.end
    return "".join([*parts, text[done:]])


def verify(
    document: Document, raw: bytes, values: Mapping[str, Scalar], as_text: AbstractSet[str] = frozenset()
) -> Any:
    """Make sure that bytes hold what a document held with values set, and nothing else; give what they hold.

    Raises
    ------
    CannotWrite
        They do not.
    """
    again = read(raw, document.file, as_text)
    meant = _set(document.data, _nested(_changed(document.data, values)))
    if again.data is None or not same(again.data, meant):
        at = next((pointer for pointer, value in values.items() if _get(again.data, pointer) != value), "")
        place = document.places.of(at) if at else None
        where = f" line {place.line}, {at}," if place else ""
        raise CannotWrite(
            f"{document.file}:{where} cannot be changed without touching what stands around it; "
            "write what it belongs to on one line, or as a plain block"
        )
    return again.data


def written(value: Scalar, key: str = "") -> str:
    """Write a value as a plan has it: labels in quotes, words plain where every reader takes them for words."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, (int, float)):
        return f"{value:.10g}" if abs(value) < 1e10 else repr(value)
    if key not in _QUOTED:
        if _DAY.match(value):
            return value
        if is_plain(value):
            return value
    return _HIDDEN.sub(lambda m: f"\\u{ord(m[0]):04x}", json.dumps(value, ensure_ascii=False))


def is_plain(text: str) -> bool:
    """Whether every reader takes a text for itself without quotes."""
    return bool(_PLAIN.match(text)) and isinstance(resolve(text), str) and not differs_in_yaml_1_1(text)


def _changed(data: Any, values: Mapping[str, Scalar]) -> dict[str, Scalar]:
    """Leave out what stands there already: a value that is right keeps the way it is written."""
    return {at: value for at, value in values.items() if not same(_get(data, at), value)}


def _get(data: Any, pointer: str) -> Any:
    for token in split(pointer):
        data = data.get(token) if isinstance(data, dict) else None
    return data


def same(one: Any, other: Any) -> bool:
    """Equal, and true no number."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return bool(one == other) and isinstance(one, bool) == isinstance(other, bool)


def _nested(values: Mapping[str, Scalar]) -> dict[str, Any]:
    tree: dict[str, Any] = {}
    for pointer, value in values.items():
        *above, last = split(pointer)
        inner = tree
        for token in above:
            inner = inner.setdefault(token, {})
        inner[last] = value
    return tree


def _ordered(tree: Mapping[str, Any], order: Mapping[str, Sequence[str]], at: str = "") -> dict[str, Any]:
    """Put the keys of new mappings in the order they belong in."""
    rank = {key: number for number, key in enumerate(order.get(at, ()))}
    return {
        key: _ordered(tree[key], order, at + join(key)) if isinstance(tree[key], dict) else tree[key]
        for key in sorted(tree, key=lambda key: rank.get(key, len(rank)))
    }


def _set(data: Any, tree: Mapping[str, Any]) -> Any:
    merged = dict(data) if isinstance(data, dict) else {}
    for key, value in tree.items():
        merged[key] = _set(merged.get(key), value) if isinstance(value, dict) else value
    return merged


def _edits(
    text: str, node: Node, tree: Mapping[str, Any], order: Mapping[str, Sequence[str]], newline: str, at: str = ""
) -> Iterator[Edit]:
    """Give the edits of one mapping: inner ones first, since those behind one another may fall on one place."""
    held = node.items or {}
    for key, value in tree.items():
        if key not in held:
            continue
        label, old = held[key]
        if isinstance(value, dict) and old.items is not None and (old.items or old.flow):
            yield from _edits(text, old, value, order, newline, at + join(key))
        elif isinstance(value, dict):  # a section with nothing in it yet
            indent = column_of(text, label.start) + 2
            inner = _flow(value) if node.flow else _block(value, indent, newline)
            place = text.index(":", label.end) + 1
            yield Edit(place, place, f" {inner}") if node.flow else _at_line_end(text, place, inner)
        elif old.empty:
            place = text.index(":", label.end) + 1
            yield Edit(place, place, f" {written(value, key)}")
        else:
            yield Edit(old.start, old.end, written(value, key))
    new = {key: value for key, value in tree.items() if key not in held}
    for after, keys in _gathered(list(held), list(new), order.get(at, ())).items():
        part = {key: new[key] for key in keys}
        if node.flow:
            inner = _flow(part)[1:-1]
            yield _into_flow(node, None if after is None else held[after], inner)
        else:
            label, value = held[after if after is not None else list(held)[-1]]
            indent = column_of(text, label.start)
            lines = _block(part, indent, newline)
            end = label.end if value.empty else value.last_end()
            yield _at_line_end(text, end, newline + lines if not at else lines)


def _gathered(held: list[str], new: list[str], order: Sequence[str]) -> dict[str | None, list[str]]:
    """Put each new key behind the nearest one that belongs before it, else to the end."""
    rank = {key: number for number, key in enumerate(order)}
    ranked = sorted((rank[key], key) for key in held if key in rank)
    last = held[-1] if held else None
    found: dict[str | None, list[str]] = {}
    for key in sorted(new, key=lambda key: rank.get(key, len(rank))):
        before = bisect_left(ranked, (rank.get(key, 0), ""))
        found.setdefault(ranked[before - 1][1] if before else last, []).append(key)
    return found


def _into_flow(node: Node, after: tuple[Node, Node] | None, inner: str) -> Edit:
    if after is None:
        return Edit(node.start + 1, node.start + 1, inner)
    label, value = after
    end = max(label.end, value.end)
    return Edit(end, end, f", {inner}")


def _at_line_end(text: str, place: int, lines: str) -> Edit:
    while place and text[place - 1] in "\r\n":  # a block of text ends on the line below
        place -= 1
    end = BREAK.search(text, place)
    at = end.start() if end else len(text)
    return Edit(at, at, lines)


def _block(tree: Mapping[str, Any], indent: int, newline: str) -> str:
    """Write a mapping in block style, things whose fields are all plain values in braces on one line."""
    lines = []
    for key, value in tree.items():
        name = f"{newline}{' ' * indent}{key_text(key)}:"
        if not isinstance(value, dict):
            lines.append(f"{name} {written(value, key)}")
        elif any(isinstance(inner, dict) for inner in value.values()):
            lines.append(name + _block(value, indent + 2, newline))
        else:
            lines.append(f"{name} {_flow(value)}")
    return "".join(lines)


def _flow(tree: Mapping[str, Any]) -> str:
    items = (f"{key_text(k)}: {_flow(v) if isinstance(v, dict) else written(v, k)}" for k, v in tree.items())
    return "{" + ", ".join(items) + "}"


def key_text(key: str) -> str:
    """Write a key."""
    return key if is_plain(key) else json.dumps(key)


def in_line(value: Any, key: str = "") -> str:
    """Write any value on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key_text(k)}: {in_line(v, k)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(in_line(item) for item in value) + "]"
    return "null" if value is None else written(value, key)


def as_block(value: Any, indent: int, newline: str) -> str:
    """Write a list of ids, or a mapping that holds lists or mappings, as lines; nothing for what fits on one.

    Each line begins with the new line that ends the one before.
    """
    pad = f"{newline}{' ' * indent}"
    if isinstance(value, list) and value and not any(isinstance(item, list) for item in value):
        return "".join(f"{pad}- {in_line(item)}" for item in value)
    if isinstance(value, dict) and any(isinstance(inner, (dict, list)) for inner in value.values()):
        return "".join(
            f"{pad}{key_text(k)}:{as_block(v, indent + 2, newline) or ' ' + in_line(v, k)}" for k, v in value.items()
        )
    return ""
