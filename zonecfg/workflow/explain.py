"""What a check or a field means, so that nobody needs a manual."""

from collections.abc import Collection, Iterator
from typing import Any, get_args

from msgspec import Struct

from zonecfg.checks.registry import entries
from zonecfg.errors import UnknownName
from zonecfg.model.grammar import Node, grammar
from zonecfg.results.guide import Field, Guide, RuleGuide
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Help
from zonecfg.rules import FallRule, VentilationRule
from zonecfg.rules import reader as rules
from zonecfg.rules.reader import known


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
    rule = rules.rule_set(rule_id)
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
    "judges_hand_opened": "judged at the largest position a hand can bring the sash to",
    "guarding_sphere_mm": "openings in the guarding that no sphere of {:g} mm passes",
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
    found: list[Field] = []
    for name, node in grammar().root.keys.items():
        found.append(_field(name, node))
        if name != "types":  # a type's fields are those of the thing
            found.extend(_below(name, node))
    return found


def _below(prefix: str, node: Node) -> Iterator[Field]:
    holder = node.each if node.each is not None else node
    for name, inner in holder.keys.items():
        full = f"{prefix}.{name}"
        yield _field(full, inner)
        yield from _below(full, inner)


_KINDS = {float: "a number", int: "a whole number", str: "text", bool: "true or false"}


def _field(name: str, node: Node) -> Field:
    value = node.each if node.kind == "set" and node.each is not None else node
    meta = node.meta
    low, strict = (meta.gt, True) if meta.gt is not None else (meta.ge, False)
    bounds = [
        *([] if low is None else [f"{'more than' if strict else 'at least'} {low:.12g}"]),
        *([] if meta.le is None else [f"at most {meta.le:.12g}"]),
    ]
    kind = {"part": "a mapping", "map": "a mapping", "set": "a list", "list": "a list"}.get(node.kind)
    example = (meta.examples or [None])[0]
    return Field(
        name=name,
        meaning=meta.description or node.said.doc,
        kind=kind or _KINDS.get(node.of, "one of the words below"),
        required=node.said.required,
        bounds=", ".join(bounds) or None,
        allowed=tuple(map(str, get_args(value.of))) if value.kind == "value" else (),
        example=None if not example else f"{node.name}: {_yaml(example)}",
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
