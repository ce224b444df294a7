"""The faults of a validator, each on the narrowest node and in words for somebody who writes a plan."""

import re
from typing import Any

from zonecfg.results.finding import Cure
from zonecfg.results.nearest import did_you_mean, nearest
from zonecfg.results.own import is_own
from zonecfg.results.pointer import join
from zonecfg.schema.engine import Violation
from zonecfg.schema.fault import SchemaFault
from zonecfg.schema.files import schema_at
from zonecfg.schema.secrets import names_a_secret, secret

_COMMA = re.compile(r"[+-]?[0-9]+,(?:[0-9]{1,2}|[0-9]{4,})")
_KINDS = {
    "object": "a mapping",
    "array": "a list",
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "null": "nothing",
}


def faults_of(violation: Violation, kind: str, data: Any, mark: str) -> list[SchemaFault]:
    """Give the faults that one violation stands for; ``mark`` stands before keys of digits."""
    path = tuple(step.removeprefix(mark) if isinstance(step, str) else step for step in violation.path)
    at = join(*path)
    if violation.keyword == "additionalProperties":
        return [_unknown_key(path, str(key).removeprefix(mark), kind, data) for key in violation.wanted]
    if violation.keyword == "required":
        name = str(violation.wanted)
        doc = schema_at((*path, name), kind, data).get("description", "")
        what = f"{_subject(path)} lacks {name}" + (f": {_uncapitalised(doc.rstrip('.'))}" if doc else "")
        return [SchemaFault("wrong-shape", at, what, True, path, name)]
    if violation.keyword == "falseSchema":
        return []
    message = f"{_subject(path)} {_reason(violation)}"
    return [SchemaFault("wrong-shape", at, message, False, path, cures=_word_meant(violation, at))]


def _unknown_key(path: tuple[str | int, ...], key: str, kind: str, data: Any) -> SchemaFault:
    at = join(*path, key)
    schema = schema_at(path, kind, data)
    known = sorted(schema.get("properties", ()))
    if known and names_a_secret(key):
        return secret((*path, key))
    if not known:  # a mapping keyed by id
        why = "ids are letters, digits, _ . and -, begin with a letter or digit"
        if is_own(key):
            why = "keys of your own stand among the fields of a thing; no id begins with x-"
        return SchemaFault("wrong-shape", at, f"{key!r} cannot be an id: {why}", True, (*path, key))
    where = f"no part of {_subject(path)}" if path else "no section of a plan"
    cures: tuple[Cure, ...] = ()
    meant = nearest(key, known)
    if meant is not None and meant not in _held(data, path):
        cures = (Cure(f"write {meant}", ({"op": "move", "from": at, "path": join(*path, meant)},)),)
    message = f"{key} is {where}{did_you_mean(key, known)}"
    return SchemaFault("unknown-key", at, message, True, (*path, key), cures=cures)


def _held(data: Any, path: tuple[str | int, ...]) -> Any:
    """What stands at a place."""
    for step in path:
        data = data[step]
    return data


def _word_meant(violation: Violation, at: str) -> tuple[Cure, ...]:
    if (number := _decimal_comma(violation)) is not None:
        return (Cure(f"write {number:g}", ({"op": "replace", "path": at, "value": number},)),)
    if violation.keyword != "enum" or not isinstance(violation.instance, str):
        return ()
    meant = nearest(violation.instance, [option for option in violation.wanted if isinstance(option, str)])
    return () if meant is None else (Cure(f"write {meant}", ({"op": "replace", "path": at, "value": meant},)),)


def _decimal_comma(violation: Violation) -> float | None:
    """Give the number that a text with a decimal comma means, where a number is wanted; 1,234 may mean either."""
    wanted = violation.keyword == "type" and {"number", "integer"} & set(violation.wanted)
    if not wanted or not isinstance(violation.instance, str) or not _COMMA.fullmatch(violation.instance.strip()):
        return None
    return float(violation.instance.strip().replace(",", "."))


def _reason(violation: Violation) -> str:
    _, name, instance, said = violation
    value = _shown(instance)
    if name == "type":
        wanted = " or ".join(_KINDS.get(kind, kind) for kind in said)
        number = _decimal_comma(violation)
        comma = "" if number is None else f", with a decimal comma: write {number:g}"
        return f"must be {wanted}, not {'the text ' * isinstance(instance, str)}{value}{comma}"
    if name == "enum":
        options = [str(option) for option in said]
        return f"must be one of {', '.join(options)}, not {value}{did_you_mean(str(instance), options)}"
    if name == "const":
        return f"must be {said}, not {value}"
    bounds = {
        "minimum": "{} is the least",
        "maximum": "{} is the most",
        "exclusiveMinimum": "it must be more than {}",
        "exclusiveMaximum": "it must be less than {}",
    }
    if name in bounds:
        return f"is {value}; {bounds[name].format(f'{said:.12g}')}"
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
