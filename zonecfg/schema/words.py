"""The faults of a validator, each on the narrowest node and in words for somebody who writes a plan."""

from typing import Any

import jsonschema_rs

from zonecfg.results.nearest import did_you_mean
from zonecfg.results.own import is_own
from zonecfg.results.pointer import join
from zonecfg.schema.fault import Fault
from zonecfg.schema.files import schema_at
from zonecfg.schema.secrets import names_a_secret, secret

_KINDS = {
    "object": "a mapping",
    "array": "a list",
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "null": "nothing",
}


def faults_of(error: jsonschema_rs.ValidationError, kind: str, data: Any, mark: str) -> list[Fault]:
    """Give the faults that one error of the validator stands for; ``mark`` stands before keys of digits."""
    path = tuple(step.removeprefix(mark) if isinstance(step, str) else step for step in error.instance_path)
    at = join(*path)
    detail: Any = error.kind
    if detail.name == "additionalProperties":
        return [_unknown_key(path, str(key).removeprefix(mark), kind, data) for key in detail.unexpected]
    if detail.name == "required":
        name = str(detail.property)
        doc = schema_at((*path, name), kind, data).get("description", "")
        what = f"{_subject(path)} lacks {name}" + (f": {_uncapitalised(doc.rstrip('.'))}" if doc else "")
        return [Fault("wrong-shape", at, what, True, path, name)]
    if detail.name == "falseSchema":
        return []
    return [Fault("wrong-shape", at, f"{_subject(path)} {_reason(error)}", False, path)]


def _unknown_key(path: tuple[str | int, ...], key: str, kind: str, data: Any) -> Fault:
    at = join(*path, key)
    schema = schema_at(path, kind, data)
    known = sorted(schema.get("properties", ()))
    if known and names_a_secret(key):
        return secret((*path, key))
    if not known:  # a mapping keyed by id
        why = "ids are letters, digits, _ . and -, begin with a letter or digit"
        if is_own(key):
            why = "keys of your own stand among the fields of a thing; no id begins with x-"
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
        return f"is {value}; {bounds[name].format(f'{detail.limit:.12g}')}"
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
    text = f"{value:.12g}" if isinstance(value, float) else str(value)
    return f"{text[:40]}…" if len(text) > 40 else text or "empty"
