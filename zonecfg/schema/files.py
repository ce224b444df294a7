"""The schemas as they lie on the disk, and the part of one that speaks of a place in the data."""

import re
from functools import cache
from pathlib import Path
from typing import Any

import msgspec


def folder() -> Path:
    """Where the schemas lie: in the package once installed, beside it in a checkout."""
    package = Path(__file__).parents[1]
    inside = package / "schemas"
    return inside if inside.is_dir() else package.parent / "schemas"


def schema_text(kind: str) -> str:
    """Read a schema as it is written: ``site``, ``catalogue``, ``findings`` or ``changes``."""
    return (folder() / f"{kind}.schema.json").read_text("utf-8")


@cache
def schema_of(kind: str) -> dict[str, Any]:
    """Read a schema."""
    schema: dict[str, Any] = msgspec.json.decode(schema_text(kind))
    return schema


def schema_at(path: tuple[str | int, ...], kind: str, data: Any) -> dict[str, Any]:
    """Find the part of a schema that speaks of a place in the data."""
    root = schema_of(kind)
    node = root
    if kind == "site":
        saved = isinstance(data, dict) and data.get("state") == "saved"
        node = root["$defs"]["SavedCopy" if saved else "Site"]
    for step in path:
        node = _dereferenced(node, root)
        if isinstance(step, int):
            node = node.get("items", {})
        elif step in node.get("properties", {}):
            node = node["properties"][step]
        elif step in node.get("then", {}).get("properties", {}):  # a value that stands as a record of its own
            node = node["then"]["properties"][step]
        else:
            patterns = node.get("patternProperties", {})
            node = next((part for pattern, part in patterns.items() if re.search(pattern, step)), {})
    return _dereferenced(node, root)


def _dereferenced(node: dict[str, Any], root: dict[str, Any]) -> dict[str, Any]:
    while "$ref" in node:
        target = root["$defs"][node["$ref"].rsplit("/", 1)[-1]]
        node = {**target, **{key: value for key, value in node.items() if key != "$ref"}}
    return node
