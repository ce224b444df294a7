"""Data without what a fault makes unknown."""

from typing import Any

from zonecfg.model.grammar import grammar
from zonecfg.schema.fault import SchemaFault


def pruned(data: Any, found: list[SchemaFault]) -> Any:
    """Take out what a fault makes unknown; the nodes above are copied, the rest is shared.

    A list with a wrong item is unknown as a whole, since its other items would move up, but for one of parts; a part
    that is no mapping stays as one that nothing is known of.
    """
    for fault in found:
        if fault.path and fault.missing is None:
            data = _without(data, _whole_list(fault.path))
    return data


def _whole_list(path: tuple[str | int, ...]) -> tuple[str | int, ...]:
    """Cut a path at the first list whose items are no parts."""
    for depth, step in enumerate(path):
        if isinstance(step, int) and depth:
            held = grammar().at(path[:depth])
            if held is None or held.each is None or held.each.kind != "part":
                return path[:depth]
    return path


def _without(node: Any, path: tuple[str | int, ...], depth: int = 0) -> Any:
    step = path[depth]
    last = depth + 1 == len(path)
    if isinstance(node, list):
        if not isinstance(step, int) or step >= len(node):
            return node
        item = {} if last else _without(node[step], path, depth + 1)
        return [*node[:step], item, *node[step + 1 :]]
    if not isinstance(node, dict) or step not in node:
        return node
    if not last:
        return {**node, step: _without(node[step], path, depth + 1)}
    if _is_thing(path):
        return {**node, step: {}}
    return {key: value for key, value in node.items() if key != step}


def _is_thing(path: tuple[str | int, ...]) -> bool:
    """Whether a path names a thing by its id rather than one of its fields."""
    held, node = grammar().at(path[:-1]), grammar().at(path)
    return held is not None and held.kind == "map" and node is not None and node.kind == "part"
