"""Data without what a fault makes unknown."""

from typing import Any

from zonecfg.schema.fault import Fault


def pruned(data: Any, found: list[Fault]) -> Any:
    """Take out what a fault makes unknown; the nodes above are copied, the rest is shared.

    A list with a wrong item is unknown as a whole, since its other items would move up; a thing that is no mapping
    stays as a thing that nothing is known of.
    """
    for fault in found:
        if fault.path and fault.missing is None:
            data = _without(data, fault.path)
    return data


def _without(node: Any, path: tuple[str | int, ...], depth: int = 0) -> Any:
    step = path[depth]
    if isinstance(node, list):
        if not isinstance(step, int) or step >= len(node):
            return node
        if depth + 1 == len(path):
            return [*node[:step], {}, *node[step + 1 :]]
        return [*node[:step], _without(node[step], path, depth + 1), *node[step + 1 :]]
    if not isinstance(node, dict) or step not in node:
        return node
    child = node[step]
    last = depth + 1 == len(path)
    item_of_list = depth + 2 == len(path) and isinstance(path[-1], int) and path[0] != "accepted"
    if last and _is_thing(path):
        return {**node, step: {}}
    if last or item_of_list:
        return {key: value for key, value in node.items() if key != step}
    return {**node, step: _without(child, path, depth + 1)}


def _is_thing(path: tuple[str | int, ...]) -> bool:
    """Whether a path names a thing by its id rather than one of its fields."""
    if path[0] in {"types", "record"}:
        return len(path) == 3
    return len(path) == 2 and path[0] not in {"site", "links", "saved", "catalogue", "terminators"}
