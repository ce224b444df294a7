"""Data without what a fault makes unknown."""

from typing import Any

from zonecfg.model.grammar import grammar
from zonecfg.schema.fault import SchemaFault


def pruned(data: Any, found: list[SchemaFault]) -> Any:
    """Take out what a fault makes unknown; the nodes above are copied, the rest is shared.

    A list with a wrong item is unknown as a whole, since its other items would move up, but for one of parts; a part
    that is no mapping stays as one that nothing is known of.
    """
    gone: dict[str | int, Any] = {}
    for fault in found:
        if fault.path and fault.missing is None:
            *above, last = _whole_list(fault.path)
            branch = gone
            for step in above:
                branch = branch.setdefault(step, {})
                if branch is _GONE:
                    break
            else:
                branch[last] = _GONE
    return _without(data, gone, ()) if gone else data


_GONE: dict[str | int, Any] = {}
"""Marks what goes as a whole, in a tree of the places that lose something."""


def _whole_list(path: tuple[str | int, ...]) -> tuple[str | int, ...]:
    """Cut a path at the first list whose items are no parts."""
    for depth, step in enumerate(path):
        if isinstance(step, int) and depth:
            held = grammar().at(path[:depth])
            if held is None or held.each is None or held.each.kind != "part":
                return path[:depth]
    return path


def _without(node: Any, gone: dict[str | int, Any], path: tuple[str | int, ...]) -> Any:
    """Copy a node without what goes below it, each place looked at once."""
    if isinstance(node, list):
        places = {step: below for step, below in gone.items() if isinstance(step, int) and step < len(node)}
        return [
            item if (below := places.get(at)) is None else {} if below is _GONE else _without(item, below, (*path, at))
            for at, item in enumerate(node)
        ]
    if not isinstance(node, dict):
        return node
    kept = {}
    for key, value in node.items():
        below = gone.get(key)
        if below is None:
            kept[key] = value
        elif below is not _GONE:
            kept[key] = _without(value, below, (*path, key))
        elif _is_thing((*path, key)):
            kept[key] = {}
    return kept


def _is_thing(path: tuple[str | int, ...]) -> bool:
    """Whether a path names a thing by its id rather than one of its fields."""
    held, node = grammar().at(path[:-1]), grammar().at(path)
    return held is not None and held.kind == "map" and node is not None and node.kind == "part"
