"""The difference of two files' data as an RFC 6902 patch."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from msgspec.json import encode

from zonecfg.results.pointer import escape, split

Operation = dict[str, Any]


def json_equal(a: Any, b: Any) -> bool:
    """Whether two values are equal as JSON has it: ``true`` is not 1, and 1 is 1.0."""
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(json_equal(a[key], b[key]) for key in a)
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(json_equal, a, b))
    return isinstance(a, bool) == isinstance(b, bool) and bool(a == b)


def identical(a: Any, b: Any) -> bool:
    """Whether two values are equal as JSON has it, quickly where they are written alike."""
    return bool(a == b) and (encode(a) == encode(b) or json_equal(a, b))


def patch(before: Any, after: Any, at: str = "") -> list[Operation]:
    """Make the operations that turn one value into the other.

    Parameters
    ----------
    before, after
        Data of JSON's kinds.
    at
        JSON Pointer to both.

    Returns
    -------
    list of dict
        Operations of RFC 6902 in order; empty exactly when both are equal.
    """
    if isinstance(before, dict) and isinstance(after, dict):
        if identical(before, after):
            return []
        gone = [{"op": "remove", "path": f"{at}/{escape(key)}"} for key in before if key not in after]
        return gone + [
            operation
            for key, value in after.items()
            for operation in (
                patch(before[key], value, f"{at}/{escape(key)}")
                if key in before
                else [{"op": "add", "path": f"{at}/{escape(key)}", "value": value}]
            )
        ]
    if isinstance(before, list) and isinstance(after, list):
        return _of_lists(before, after, at)
    return [] if json_equal(before, after) else [{"op": "replace", "path": at, "value": after}]


def _of_lists(before: list[Any], after: list[Any], at: str) -> list[Operation]:
    shorter = min(len(before), len(after))
    head = next((i for i in range(shorter) if not json_equal(before[i], after[i])), shorter)
    tail = next((i for i in range(shorter - head) if not json_equal(before[-1 - i], after[-1 - i])), shorter - head)
    old, new = before[head : len(before) - tail], after[head : len(after) - tail]
    both = min(len(old), len(new))
    operations = [op for i in range(both) for op in patch(old[i], new[i], f"{at}/{head + i}")]
    operations += [{"op": "remove", "path": f"{at}/{head + i}"} for i in reversed(range(both, len(old)))]
    operations += [{"op": "add", "path": f"{at}/{head + i}", "value": new[i]} for i in range(both, len(new))]
    return operations


def patched(data: Any, steps: Iterable[Mapping[str, Any]]) -> Any:
    """Apply ``add``, ``remove``, ``replace`` and ``move`` of RFC 6902; the data stays, what differs is copied.

    Raises
    ------
    KeyError, IndexError
        A place that an operation needs is not there.
    """
    for step in steps:
        path = split(step["path"])
        value = step.get("value")
        if step["op"] == "move":
            origin = split(step["from"])
            value = data
            for token in origin:
                value = value[int(token) if isinstance(value, list) else token]
            data = _changed(data, origin, "remove", None)
        data = _changed(data, path, "add" if step["op"] == "move" else step["op"], value)
    return data


def _changed(node: Any, path: Sequence[str], operation: str, value: Any) -> Any:
    if not path:
        return value
    first, *rest = path
    if isinstance(node, list):
        items = list(node)
        at = len(items) if first == "-" else int(first)
        if rest or operation == "replace":
            items[at] = _changed(items[at], rest, operation, value)
        elif operation == "add":
            items.insert(at, value)
        else:
            del items[at]
        return items
    fields = dict(node)
    if rest or operation == "replace":
        fields[first] = _changed(fields[first], rest, operation, value)
    elif operation == "add":
        fields[first] = value
    else:
        del fields[first]
    return fields
