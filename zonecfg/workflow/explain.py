"""What a check or a field means, so that nobody needs a manual."""

from collections.abc import Collection
from typing import Any

from msgspec import Struct

from zonecfg.checks.registry import entries
from zonecfg.errors import UnknownName
from zonecfg.results.guide import Field, Guide, RuleGuide
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Help
from zonecfg.rules import FallRule, VentilationRule
from zonecfg.rules import reader as rules
from zonecfg.rules.reader import known
from zonecfg.schema import load


def explain(name: str | None) -> Help | Field | RuleGuide | Guide:
    """Explain a check by its id, a field by ``section.field``, a rule set by its id, or list all three.

    Raises
    ------
    UnknownName
        There is neither a check nor a field nor a rule set of that name.
    """
    checks = entries()
    if name is not None and name in checks:
        return checks[name].help
    fields = {field.name: field for field in _fields()}
    if name is None:
        rules = tuple(_rule(rule_id) for rule_id in known())
        helps = tuple(entry.help for entry in checks.values())
        return Guide(checks=helps, fields=tuple(fields.values()), rules=rules)
    if name in known():
        return _rule(name)
    if name in fields:
        return fields[name]
    alike = [full for full in fields if full.rsplit(".", 1)[-1] == name]
    if len(alike) == 1:
        return fields[alike[0]]
    offer = f"; there are {', '.join(alike)}" if alike else did_you_mean(name, [*checks, *fields, *known()])
    raise UnknownName(f"{name} is no check, no field and no rule set{offer}")


def names() -> dict[str, str]:
    """Give every name that can be explained, with what it is in a line."""
    checks = {name: entry.help.title for name, entry in entries().items()}
    return checks | {field.name: field.meaning for field in _fields()} | {rule: _rule(rule).title for rule in known()}


def _rule(rule_id: str) -> RuleGuide:
    rule = rules.load(rule_id)
    if isinstance(rule, FallRule):
        asks = tuple(f"{clause.text}: {_asked(clause.asks, clause.secondary)}" for clause in rule.clauses)
    elif isinstance(rule, VentilationRule):
        asks = (f"counted is {rule.counted}", *(band.text for band in rule.bands))
    else:
        asks = (_asked(rule.limits, rule.secondary),)
    return RuleGuide(
        id=rule.id,
        kind=rule.kind,
        title=rule.title,
        edition=rule.edition,
        clause=rule.clause,
        source=rule.source,
        secondary=rule.read == "secondary",
        buildings=rule.written_for.buildings,
        asks=asks,
        note=rule.note,
    )


_ASKS = {
    "sphere_mm": "no passage for a sphere of {:g} mm",
    "resist_n": "what keeps it so holds {:g} N",
    "barrier_mm": "a barrier of {:g} mm",
    "barrier_if_overridable_mm": "a barrier of {:g} mm where the limit can be overridden",
    "no_climb_from_mm": "nothing to climb on from {:g} mm",
    "no_climb_to_mm": "nor up to {:g} mm",
    "child_resistant_release": "a release that children cannot work",
    "or_device": "or {}",
    "clear_area_at_least_m2": "a clear area of {:g} m²",
    "each_way_at_least_mm": "{:g} mm both ways",
    "bottom_at_most_mm": "the bottom at most {:g} mm above the floor",
    "by_hand": "it opens by hand",
}


def _asked(figures: Struct, secondary: Collection[str]) -> str:
    """Write the figures of a rule, those read second-hand marked."""
    said = []
    for name in figures.__struct_fields__:
        value = getattr(figures, name)
        if value is not None and value is not False:
            words = _ASKS[name].format(value)
            said.append(f"{words} (read second-hand)" if name in secondary else words)
    return "; ".join(said)


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
    least = None if low is None else f"{'more than' if 'exclusiveMinimum' in body else 'at least'} {low:.12g}"
    most = f"at most {body['maximum']:.12g}" if "maximum" in body else None
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
