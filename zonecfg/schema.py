"""Data to findings by JSON Schema: a fast gate, and good words for what does not pass it."""

import json
import re
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import jsonschema_rs

from zonecfg.results.nearest import did_you_mean
from zonecfg.results.pointer import join

# Names that people give to secrets; a name is taken apart at - _ . spaces and capitals first.
_SECRET_PARTS = frozenset(
    "pin pins pincode password passwords passwd pwd passcode passcodes passphrase token tokens secret secrets "
    "credential credentials apikey".split()
)
_DIGITS = re.compile(r"\+?[0-9]+\Z")
_NAME_PARTS = re.compile(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+")
_KINDS = {
    "object": "a mapping",
    "array": "a list",
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "null": "nothing",
}


class Fault(NamedTuple):
    """What the schema does not allow, on the narrowest node."""

    check: str
    at: str
    message: str
    on_key: bool = False
    path: tuple[str | int, ...] = ()
    missing: str | None = None


def folder() -> Path:
    """Where the schemas lie: in the package once installed, beside it in a checkout."""
    inside = Path(__file__).parent / "schemas"
    return inside if inside.is_dir() else Path(__file__).parent.parent / "schemas"


@cache
def load(kind: str) -> dict[str, Any]:
    """Read a schema: ``site``, ``catalogue``, ``findings`` or ``changes``."""
    schema: dict[str, Any] = json.loads((folder() / f"{kind}.schema.json").read_bytes())
    return schema


@cache
def _gate(kind: str) -> jsonschema_rs.Draft202012Validator:
    return jsonschema_rs.Draft202012Validator(load(kind), validate_formats=True)


def faults(data: Any, kind: str, *, may_hold_own_keys: bool = True) -> list[Fault]:
    """Find every fault of shape.

    Parameters
    ----------
    data
        A document as read.
    kind
        ``site`` or ``catalogue``.
    may_hold_own_keys
        False where no key can begin with ``x-``, which saves a walk.

    Returns
    -------
    list of Fault
        One a fault, in the order of the schema's walk.
    """
    found: list[Fault] = []
    gate = _gate(kind)
    if not gate.is_valid(data):
        seen: set[tuple[str, str, str | None]] = set()
        told, mark = _digits_marked(data)
        for error in gate.iter_errors(told):
            for fault in _faults_of(error, kind, data, mark):
                identity = (fault.check, fault.at, fault.missing)
                if identity not in seen:
                    seen.add(identity)
                    found.append(fault)
    if may_hold_own_keys:
        found.extend(_secrets_below(data, ()))
    return found


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


def _digits_marked(data: Any) -> tuple[Any, str]:
    """Put a mark before every key of digits: the validator gives its path as a number, 007 as 7, as if it were an item.

    The mark begins no other key, and leaves an id an id; it is empty where no key is of digits.
    """
    keys = _keys_below(data)
    if not any(map(_DIGITS.match, keys)):
        return data, ""
    mark = "k"
    while any(key.startswith(mark) for key in keys):
        mark += "_"
    return _with_mark(data, mark), mark


def _keys_below(node: Any) -> set[str]:
    if isinstance(node, list):
        return set().union(*map(_keys_below, node))
    return set(node).union(*map(_keys_below, node.values())) if isinstance(node, dict) else set()


def _with_mark(node: Any, mark: str) -> Any:
    if isinstance(node, list):
        return [_with_mark(item, mark) for item in node]
    if isinstance(node, dict):
        return {mark * bool(_DIGITS.match(key)) + key: _with_mark(item, mark) for key, item in node.items()}
    return node


def _faults_of(error: jsonschema_rs.ValidationError, kind: str, data: Any, mark: str) -> list[Fault]:
    path = tuple(step.removeprefix(mark) if isinstance(step, str) else step for step in error.instance_path)
    at = join(*path)
    detail: Any = error.kind
    if detail.name == "additionalProperties":
        return [_unknown_key(path, str(key).removeprefix(mark), kind, data) for key in detail.unexpected]
    if detail.name == "required":
        name = str(detail.property)
        doc = _schema_at((*path, name), kind, data).get("description", "")
        what = f"{_subject(path)} lacks {name}" + (f": {_uncapitalised(doc.rstrip('.'))}" if doc else "")
        return [Fault("wrong-shape", at, what, True, path, name)]
    if detail.name == "falseSchema":
        return []
    return [Fault("wrong-shape", at, f"{_subject(path)} {_reason(error)}", False, path)]


def _unknown_key(path: tuple[str | int, ...], key: str, kind: str, data: Any) -> Fault:
    at = join(*path, key)
    schema = _schema_at(path, kind, data)
    known = sorted(schema.get("properties", ()))
    if known and names_a_secret(key):
        return _secret((*path, key))
    if not known:  # a mapping keyed by id
        why = "ids are letters, digits, _ . and -, begin with a letter or digit"
        return Fault("wrong-shape", at, f"{key!r} cannot be an id: {why}", True, (*path, key))
    where = f"no part of {_subject(path)}" if path else "no section of a plan"
    return Fault("unknown-key", at, f"{key} is {where}{did_you_mean(key, known)}", True, (*path, key))


def _reason(error: jsonschema_rs.ValidationError) -> str:
    detail: Any = error.kind
    name, value = detail.name, _shown(error.instance)
    if name == "type":
        wanted = " or ".join(_KINDS.get(kind, kind) for kind in detail.types)
        return f"must be {wanted}, not {'the text ' * isinstance(error.instance, str)}{value}"
    if name == "enum":
        options = [str(option) for option in detail.options]
        return f"must be one of {', '.join(options)}, not {value}{did_you_mean(str(error.instance), options)}"
    if name == "const":
        return f"must be {detail.expected_value}, not {value}"
    bounds = {
        "minimum": "{} is the least",
        "maximum": "{} is the most",
        "exclusiveMinimum": "it must be more than {}",
        "exclusiveMaximum": "it must be less than {}",
    }
    if name in bounds:
        return f"is {value}; {bounds[name].format(f'{detail.limit:g}')}"
    if name == "format":
        return f"is {value}; a date is written year-month-day, such as 2026-05-14"
    return f"is {value}; it must not be empty"


def _subject(path: tuple[str | int, ...]) -> str:
    if not path:
        return "the file"
    *above, last = (f"item {step + 1}" if isinstance(step, int) else step for step in path)
    return f"{last} of {'/'.join(above)}" if above else last


def _uncapitalised(text: str) -> str:
    return text if text[1:2].isupper() else text[:1].lower() + text[1:]


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list):
        return "a list"
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return str(value).lower()
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return f"{text[:40]}…" if len(text) > 40 else text or "empty"


def _schema_at(path: tuple[str | int, ...], kind: str, data: Any) -> dict[str, Any]:
    """Find the part of a schema that speaks of a place in the data."""
    root = load(kind)
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
        else:
            patterns = node.get("patternProperties", {})
            node = next((part for pattern, part in patterns.items() if re.search(pattern, step)), {})
    return _dereferenced(node, root)


def _dereferenced(node: dict[str, Any], root: dict[str, Any]) -> dict[str, Any]:
    while "$ref" in node:
        target = root["$defs"][node["$ref"].rsplit("/", 1)[-1]]
        node = {**target, **{key: value for key, value in node.items() if key != "$ref"}}
    return node


def names_a_secret(key: str) -> bool:
    """Whether a key is named like a PIN, password, passcode, token or key."""
    parts = [part.lower() for part in _NAME_PARTS.findall(key)]
    joined = "".join(parts)
    return (
        any(part in _SECRET_PARTS for part in parts)
        or parts[-1:] in (["key"], ["keys"])
        or any(word in joined for word in ("password", "passcode", "passphrase", "apikey"))
    )


def _secret(path: tuple[str | int, ...]) -> Fault:
    return Fault(
        "secret-in-plan",
        join(*path),
        f"{path[-1]} looks like a secret; a plan is read by many and kept for ever: take it out, and change it",
        True,
        path,
    )


def _secrets_below(node: Any, path: tuple[str | int, ...], *, own: bool = False) -> list[Fault]:
    """Look for secrets below keys that begin with ``x-``, those keys included."""
    if isinstance(node, list):
        return [fault for i, item in enumerate(node) for fault in _secrets_below(item, (*path, i), own=own)]
    if not isinstance(node, dict):
        return []
    found = []
    for key, value in node.items():
        inside = own or key.startswith("x-")
        if inside and names_a_secret(key):
            found.append(_secret((*path, key)))
        else:
            found.extend(_secrets_below(value, (*path, key), own=inside))
    return found
