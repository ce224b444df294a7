"""Hypothesis strategies: sites with values of the wrong shape, keys too many and keys too few."""

from __future__ import annotations

import copy
from typing import Any

from hypothesis import strategies as st
from strategies import sites

# Words, numbers and shapes that some field may take and most may not. No word ends in a new line: there Python's $ and
# that of ECMA-262, which JSON Schema names, part ways.
VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.sampled_from([0, -1, 1, 1.0, 0.5, 100, 361, 1e9, -1e-9, 10**30]),
    st.sampled_from(
        ["", " ", "A-01", "a b", "x-a", "30 cm", "2026-02-30", "2026-05-14", "top-hung", "pass", "é", "\u0660"]
    ),
    st.sampled_from([[], {}, [1], ["A-01"], {"x-own": 1}, {"id": "A-01"}, [[]], [None], {"A-01": {}}, {"a b": {}}]),
)
KEYS = st.sampled_from(
    ["x-own", "widht_mm", "type", "id", "a b", "", "-a", "serial", "A-99", "é", "password", "..", "a/b"]
)


def paths(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """List the path of every value."""
    found = [path] if path else []
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return found + [deeper for key, value in items for deeper in paths(value, (*path, key))]


def holder_of(data: Any, path: tuple[Any, ...]) -> Any:
    for step in path[:-1]:
        data = data[step]
    return data


@st.composite
def mutated(draw: Any) -> Any:
    """Draw a site with one to three values replaced, keys added or taken away."""
    data = copy.deepcopy(draw(sites()))
    for _ in range(draw(st.integers(1, 3))):
        path = draw(st.sampled_from(paths(data)))
        holder = holder_of(data, path)
        kind = draw(st.sampled_from(["replace", "replace", "add", "drop"]))
        if kind == "replace":
            holder[path[-1]] = copy.deepcopy(draw(VALUES))
        elif kind == "drop" and isinstance(holder, dict):
            del holder[path[-1]]
        elif isinstance(holder, dict):
            holder[draw(KEYS)] = copy.deepcopy(draw(VALUES))
        data = data or {"format": "zonecfg-site/1"}
    return data
