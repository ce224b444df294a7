"""How values are written in a plan, and edits of a text put together."""

import json
import re
from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from typing import Any, NamedTuple

from zonecfg.document.scalars import differs_in_yaml_1_1, resolve
from zonecfg.errors import CannotWrite

Scalar = str | bool | int | float
_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _./+-]*(?<! )\Z")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}\Z")
_HIDDEN = re.compile("[\x7f-\x9f\u2028\u2029\ufeff]")


class Edit(NamedTuple):
    """A stretch of text, and what shall stand there instead."""

    start: int
    end: int
    text: str


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


def scalar_text(value: Scalar, key: str = "", quoted: AbstractSet[str] = frozenset()) -> str:
    """Write a value: in quotes under some keys, else plain where every reader takes words for words."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, (int, float)):
        return f"{value:.10g}" if abs(value) < 1e10 else repr(value)
    if key not in quoted:
        if _DAY.match(value):
            return value
        if is_plain(value):
            return value
    return _HIDDEN.sub(lambda m: f"\\u{ord(m[0]):04x}", json.dumps(value, ensure_ascii=False))


def is_plain(text: str) -> bool:
    """Whether every reader takes a text for itself without quotes."""
    return bool(_PLAIN.match(text)) and isinstance(resolve(text), str) and not differs_in_yaml_1_1(text)


def same_value(one: Any, other: Any) -> bool:
    """Equal, and true no number."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same_value(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same_value, one, other))
    return bool(one == other) and isinstance(one, bool) == isinstance(other, bool)


def key_text(key: str) -> str:
    """Write a key."""
    return key if is_plain(key) else json.dumps(key)


def in_line(value: Any, key: str = "", quoted: AbstractSet[str] = frozenset()) -> str:
    """Write any value on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key_text(k)}: {in_line(v, k, quoted)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(in_line(item, "", quoted) for item in value) + "]"
    return "null" if value is None else scalar_text(value, key, quoted)


def as_block(value: Any, indent: int, newline: str, quoted: AbstractSet[str] = frozenset()) -> str:
    """Write a list of ids, or a mapping that holds lists or mappings, as lines; nothing for what fits on one.

    Each line begins with the new line that ends the one before.
    """
    pad = f"{newline}{' ' * indent}"
    if isinstance(value, list) and value and not any(isinstance(item, list) for item in value):
        return "".join(f"{pad}- {in_line(item, '', quoted)}" for item in value)
    if isinstance(value, dict) and any(isinstance(inner, (dict, list)) for inner in value.values()):
        return "".join(
            f"{pad}{key_text(k)}:{as_block(v, indent + 2, newline, quoted) or ' ' + in_line(v, k, quoted)}"
            for k, v in value.items()
        )
    return ""
