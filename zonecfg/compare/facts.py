"""A file's data as lines, one a fact, in one order: for reading what differs between two revisions."""

import json
import re
from collections.abc import Iterator, Mapping
from typing import Any

from zonecfg.compare.view import is_set
from zonecfg.compare.words import ONE
from zonecfg.document.writer import is_plain
from zonecfg.model.grammar import Node, grammar
from zonecfg.results.own import is_own
from zonecfg.results.signs import hidden

_KEY = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]*\Z")
_DIGITS = re.compile(r"([0-9]+)")


def facts(data: Any) -> list[str]:
    """Tell all that a file says.

    Parameters
    ----------
    data
        A document as read. Where parts of it are not as a plan has them they are told all the same, as they are.

    Returns
    -------
    list of str
        Equal for equal data, whatever its keys' order and style; different for different data. Sections and fields
        come in the format's order, ids in the order of their numbers. Lists of ids are told one fact an id: which
        group an actuator is in stands with the actuator.
    """
    if not isinstance(data, Mapping):
        return [f"whole file: {_value(data)}"]
    homes = _homes(data.get("groups"))
    return [line for key in _sorted(data, grammar().root) for line in _section(key, data[key], homes)] + [
        f"actuator {_key(member)} in group: {_key(group)}"
        for member in _by_number(homes)
        if not _holds(data.get("actuators"), member)
        for group in homes[member]
    ]


def _section(key: str, value: Any, homes: Mapping[str, list[str]]) -> Iterator[str]:
    if key in {"terminators", "catalogue"} and _is_ids(value):
        yield from (f"{key[:-1] if key == 'terminators' else key} at: {_value(item)}" for item in sorted(value))
    elif not isinstance(value, Mapping) or not value or is_own(key):
        if key == "accepted" and isinstance(value, list) and value:
            yield from (line for item in sorted(value, key=_value) for line in _acceptance(item))
        else:
            yield f"{_top(key)}: {_value(value, grammar().at((key,)))}"
    elif key in ONE:
        for thing in _by_number(value):
            yield from _thing(f"{_NAMES[key]} {_key(thing)}", (key, thing), value[thing], grammar().of(key))
            if key == "actuators":
                yield from (f"actuator {_key(thing)} in group: {_key(group)}" for group in homes.get(thing, ()))
    elif key == "links":
        for sensor in _by_number(value):
            if _is_ids(value[sensor]):
                yield from (f"sensor {_key(sensor)} acts on: {_key(group)}" for group in _by_number(value[sensor]))
            else:
                what = "acts on" if isinstance(value[sensor], list) else "acts on, no list"
                yield f"sensor {_key(sensor)} {what}: {_value(value[sensor])}"
    else:
        yield from _thing(_top(key), (key,), value, grammar().at((key,)))


_NAMES = {**ONE, "wet_weather": "wet weather for", "strong_wind": "strong wind for"}


def _thing(name: str, path: tuple[str, ...], fields: Any, node: Node | None) -> Iterator[str]:
    """Tell a mapping's facts, those of mappings within it under their own names."""
    if not isinstance(fields, Mapping) or not fields or is_own(path[-1]):
        yield f"{name}: {_value(fields, node)}"
        return
    for field in _sorted(fields, node):
        value = fields[field]
        if path[0] == "groups" and len(path) == 2 and field == "actuators" and _is_ids(value):
            continue  # told with each actuator
        yield from _thing(f"{name} {_key(field)}", (*path, field), value, _under(node, field))
    if path[0] == "groups" and list(fields) == ["actuators"] and _is_ids(fields["actuators"]):
        yield f"{name} has members"


def _acceptance(item: Any) -> Iterator[str]:
    if not isinstance(item, Mapping):
        yield f"accepted item: {_value(item)}"
        return
    check, at = (_value(item[field]) if field in item else "?" for field in ("check", "at"))
    name = f"accepted {check} at {at}"
    yield name
    node = grammar().at(("accepted", 0))
    for field in _sorted(item, node):
        if field not in {"check", "at"}:
            yield from _thing(f"{name} {_key(field)}", ("accepted", "0", field), item[field], _under(node, field))


def _under(node: Node | None, field: str) -> Node | None:
    return None if node is None or is_own(field) else node.below(field)


def _homes(groups: Any) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for group in _by_number(groups) if isinstance(groups, Mapping) else ():
        members = groups[group].get("actuators") if isinstance(groups[group], Mapping) else None
        for member in members or () if _is_ids(members) else ():
            found.setdefault(member, []).append(group)
    return found


def _holds(section: Any, key: str) -> bool:
    return isinstance(section, Mapping) and key in section


def _is_ids(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(item, str) for item in value)


def _sorted(fields: Mapping[str, Any], node: Node | None) -> list[str]:
    rank = {key: number for number, key in enumerate(node.keys if node is not None else ())}
    return sorted(fields, key=lambda key: (rank.get(key, len(rank)), _number_order(key)))


def _by_number(keys: Any) -> list[str]:
    return sorted(keys, key=_number_order)


def _number_order(key: str) -> tuple[list[tuple[int, str]], str]:
    """A-2 before A-10."""
    parts = [part.lstrip("0") if n % 2 else part for n, part in enumerate(_DIGITS.split(key))]
    return [(len(part) if n % 2 else 0, part) for n, part in enumerate(parts)], key


def _top(key: str) -> str:
    """Name a section; one that the format does not know stands in quotes, so that it looks like no thing."""
    return _key(key) if key in grammar().order or is_own(key) else _quoted(key)


def _key(key: str) -> str:
    return key if _KEY.match(key) else _quoted(key)


def _value(value: Any, node: Node | None = None) -> str:
    """Write a value so that no other value looks the same."""
    if isinstance(value, str):
        return value if is_plain(value) else _quoted(value)
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    if isinstance(value, list):
        items = [_value(item) for item in value]
        return f"[{', '.join(sorted(items) if is_set(node, value) else items)}]"
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_key(k)}: {_value(value[k])}" for k in _by_number(value)) + "}"
    return json.dumps(value)


def _quoted(text: str) -> str:
    return hidden(json.dumps(text, ensure_ascii=False))
