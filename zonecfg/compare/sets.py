"""A file's data laid out for merging: lists of ids as sets, acceptances by what they accept."""

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from zonecfg.compare.patch import json_equal
from zonecfg.compare.sides import ABSENT
from zonecfg.compare.view import acceptances
from zonecfg.model.grammar import Node, grammar
from zonecfg.results.own import is_own


class Ids(tuple[str, ...]):
    """A list of ids: equal to another that holds the same ones; the order is kept for writing it again."""

    __slots__ = ()


class Members(Ids):
    """A list of ids of which each may stand in one list only: the members of a group."""

    __slots__ = ()


class Named(dict[str, Any]):
    """A list of mappings, each under the name of what it is about."""


def laid_out(data: Any) -> Any:
    """Lay out a file's data as read; what is not of the shape that a plan has stays as it is."""
    return _laid_out(data, grammar().root)


def _laid_out(value: Any, node: Node | None) -> Any:
    if node is None:
        return value
    if isinstance(value, dict):
        return {key: item if is_own(key) else _laid_out(item, node.below(key)) for key, item in value.items()}
    if isinstance(value, list):
        if node.said.known_by and all(isinstance(item, dict) for item in value):
            return Named(acceptances(value)[0])
        if node.kind == "set" and all(isinstance(item, str) for item in value):
            return Members(value) if node.said.exclusive else Ids(value)
    return value


def as_data(value: Any) -> Any:
    """Give the data back that was laid out."""
    if isinstance(value, Named):
        return [as_data(item) for item in value.values()]
    if isinstance(value, dict):
        return {key: as_data(item) for key, item in value.items()}
    return list(value) if isinstance(value, Ids) else value


def agree(one: Any, other: Any) -> bool:
    """Whether two values that were laid out say the same."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(agree(one[key], other[key]) for key in one)
    if isinstance(one, Ids) and isinstance(other, Ids):
        return set(one) == set(other)
    return json_equal(one, other)


def woven(first: Iterable[str], second: Collection[str], wanted: Collection[str]) -> list[str]:
    """Put two orders together: the first as it stands, what only the second has behind its neighbour there."""
    order = [item for item in first if item in wanted]
    held = set(order)
    behind: dict[str | None, list[str]] = {}
    neighbour: str | None = None
    for item in dict.fromkeys(second):
        if item in held:
            neighbour = item
        elif item in wanted:
            behind.setdefault(neighbour, []).append(item)
    last = {item: index for index, item in enumerate(order)}
    found: list[str] = []
    for index, item in enumerate(order):
        found.append(item)
        if last[item] == index:
            found += behind.get(item, [])
    return [*found, *behind.get(None, [])]


def value_under(value: Any, key: str) -> Any:
    """Give what a mapping holds under a key; absent too where it is none."""
    return value.get(key, ABSENT) if isinstance(value, Mapping) else ABSENT
