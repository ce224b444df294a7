"""Values set in data by their pointers, new keys where they belong; what a text is then made to hold."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from typing import Any

from zonecfg.document.reader import Document
from zonecfg.document.writer import Scalar, same_value
from zonecfg.errors import CannotWrite
from zonecfg.results.pointer import join, split


def with_values(document: Document, values: Mapping[str, Scalar], order: Mapping[str, Sequence[str]]) -> Any:
    """Give a document's data with values set.

    Parameters
    ----------
    document
        A document without faults of reading.
    values
        JSON Pointer of a value below mappings, and what it shall be; what is missing above it is made. A value that is
        right already stays the way it is written.
    order
        Pointer of a mapping, and the order its keys belong in: a new one comes behind the nearest one before it,
        others to the end.

    Returns
    -------
    mapping
        The data as it shall be; what nothing is set in is shared.

    Raises
    ------
    CannotWrite
        Something else than a mapping stands above a value; the message names its line.
    """
    tree: dict[str, Any] = {}
    for pointer, value in values.items():
        *above, last = split(pointer)
        inner = tree
        for step in above:
            inner = inner.setdefault(step, {})
        inner[last] = value
    return _merged(document, document.data, tree, order, "")


def _merged(
    document: Document, data: Any, tree: Mapping[str, Any], order: Mapping[str, Sequence[str]], at: str
) -> dict[str, Any]:
    if data is not None and not isinstance(data, dict):
        place = document.places.of(at)
        where = f" line {place.line}," if place else ""
        raise CannotWrite(f"{document.file}:{where} {at}, is no mapping that values can be set in")
    held: dict[str, Any] = data or {}
    new = {
        key: _merged(document, held.get(key), value, order, at + join(key)) if isinstance(value, dict) else value
        for key, value in tree.items()
    }
    kept = {key: value if key not in new or same_value(value, new[key]) else new[key] for key, value in held.items()}
    coming = _behind(list(held), [key for key in new if key not in held], order.get(at, ()))
    found: dict[str, Any] = {}
    for key, value in kept.items():
        found[key] = value
        found |= {later: new[later] for later in coming.get(key, ())}
    return found | {key: new[key] for key in coming.get(None, ())}


def _behind(held: Sequence[str], new: Sequence[str], order: Sequence[str]) -> dict[str | None, list[str]]:
    """Put each new key behind the nearest one that belongs before it; under None those that come last."""
    rank = {key: number for number, key in enumerate(order)}
    ranked = sorted((rank[key], key) for key in held if key in rank)
    found: dict[str | None, list[str]] = {}
    for key in sorted(new, key=lambda key: rank.get(key, len(rank))):
        before = bisect_left(ranked, (rank[key], "")) if key in rank else 0
        found.setdefault(ranked[before - 1][1] if before else None, []).append(key)
    return found
