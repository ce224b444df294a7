"""What a check or a field means, so that nobody needs a manual."""

from typing import Any

from zonecfg.checks.registry import entries
from zonecfg.errors import UnknownName
from zonecfg.results.guide import Field, Guide
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Help
from zonecfg.schema import load


def explain(name: str | None) -> Help | Field | Guide:
    """Explain a check by its id, a field by ``section.field``, or list both.

    Raises
    ------
    UnknownName
        There is neither a check nor a field of that name.
    """
    checks = entries()
    if name is not None and name in checks:
        return checks[name].help
    fields = {field.name: field for field in _fields()}
    if name is None:
        return Guide(checks=tuple(entry.help for entry in checks.values()), fields=tuple(fields.values()))
    if name in fields:
        return fields[name]
    alike = [full for full in fields if full.rsplit(".", 1)[-1] == name]
    if len(alike) == 1:
        return fields[alike[0]]
    offer = f"; there are {', '.join(alike)}" if alike else did_you_mean(name, [*checks, *fields])
    raise UnknownName(f"{name} is no check and no field{offer}")


def _fields() -> list[Field]:
    root = load("site")
    site = root["$defs"]["Site"]
    found = []
    for name, section in site["properties"].items():
        found.append(_field(name, section, root, required=name in site["required"]))
        if name == "types":
            continue
        body = _resolved(section, root)
        thing = next((part for key, part in body.get("patternProperties", {}).items() if key != "^x-"), None)
        item = body.get("items") if body.get("type") == "array" else None
        found.extend(_below(name, thing or item or body, root))
    for name in site["properties"]["types"]["properties"]:
        part = next(iter(site["properties"]["types"]["properties"][name]["patternProperties"].values()))
        own = {field.name for field in found}
        found.extend(f for f in _below(name, part, root) if f.name not in own)
    return found


def _below(prefix: str, part: dict[str, Any], root: dict[str, Any]) -> list[Field]:
    body = _resolved(part, root)
    found = []
    for name, field in body.get("properties", {}).items():
        full = f"{prefix}.{name}"
        found.append(_field(full, field, root, required=name in body.get("required", ())))
        inner = _resolved(field, root)
        thing = next((p for key, p in inner.get("patternProperties", {}).items() if key != "^x-"), None)
        found.extend(_below(full, thing or inner, root))
    return found


def _resolved(part: dict[str, Any], root: dict[str, Any]) -> dict[str, Any]:
    if "$ref" in part:
        target: dict[str, Any] = root["$defs"][part["$ref"].rsplit("/", 1)[-1]]
        return {**target, **{key: value for key, value in part.items() if key != "$ref"}}
    return part


def _field(name: str, part: dict[str, Any], root: dict[str, Any], *, required: bool) -> Field:
    body = _resolved(part, root)
    items = _resolved(body.get("items", {}), root)
    kind = {
        "object": "a mapping", "array": "a list", "string": "text", "number": "a number", "integer": "a whole number",
        "boolean": "true or false",
    }.get(body.get("type", ""), "one of the words below")  # fmt: skip
    low = body.get("minimum", body.get("exclusiveMinimum"))
    least = None if low is None else f"{'more than' if 'exclusiveMinimum' in body else 'at least'} {low:g}"
    most = f"at most {body['maximum']:g}" if "maximum" in body else None
    examples = body.get("examples")
    allowed = body.get("enum") or items.get("enum") or ([body["const"]] if "const" in body else [])
    return Field(
        name=name,
        meaning=body.get("description", ""),
        kind=kind,
        required=required,
        bounds=", ".join(bound for bound in (least, most) if bound) or None,
        allowed=tuple(map(str, allowed)),
        example=None if not examples else f"{name.rsplit('.', 1)[-1]}: {_yaml(examples[0])}",
    )


def _yaml(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_yaml(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_yaml, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str) and value.replace(".", "").isdigit():
        return f'"{value}"'
    return str(value)
