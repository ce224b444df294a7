"""What changed of evidence: records, acceptances, and the resistors at the ends of a bus."""

from collections.abc import Iterator
from typing import Any

from zonecfg.compare.patch import json_equal
from zonecfg.compare.sides import ABSENT, Sides
from zonecfg.compare.words import change_words, field_words, value_words
from zonecfg.model.evidence import signature
from zonecfg.model.grammar import grammar
from zonecfg.results.change import Change, Kind
from zonecfg.results.pointer import join
from zonecfg.results.words import listed


def of_terminators(sides: Sides) -> Iterator[Change]:
    """Tell the resistors that were added or removed."""
    old_ids = {new: old for section in grammar().nodes for new, old in sides.old.get(section, {}).items()}
    for node in sorted(sides.before.terminators ^ sides.after.terminators):
        gone = node in sides.before.terminators
        listed_nodes = sides.sites[0 if gone else 1].terminators
        at = join("terminators", listed_nodes.index(old_ids.get(node, node) if gone else node))
        yield Change(
            kind="removed" if gone else "added",
            section="terminators",
            id=node,
            before=node if gone else None,
            after=None if gone else node,
            consequence="electrical",
            at_before=at if gone else None,
            at_after=None if gone else at,
            text=f"bus termination resistor at {node} {'removed' if gone else 'added'}",
        )


def of_records(sides: Sides) -> Iterator[Change]:
    """Tell what was recorded."""
    for part, node in grammar().root.keys["record"].keys.items():
        section = node.section or part
        before, after = sides.before.record[part], sides.after.record[part]
        for key in dict.fromkeys((*before, *after)):
            old, new = before.get(key, ABSENT), after.get(key, ABSENT)
            if old is new:  # one plant under two settings
                continue
            if (old is ABSENT or new is ABSENT) and sides.one_sided(section, key):
                continue
            yield from _recorded(sides, f"record.{part}", key, old, new)


def _recorded(sides: Sides, section: str, key: str, old: Any, new: Any) -> Iterator[Change]:
    old_key = sides.old_id(grammar().holder(section).section or "", key)
    if not isinstance(old, dict) or not isinstance(new, dict):
        if json_equal(old, new):
            return
        text = "record taken out" if new is ABSENT else change_words(None, old, new)
        if old is ABSENT:
            text = f"recorded {(listed(field_words(new)) or 'nothing') if isinstance(new, dict) else value_words(new)}"
        yield Change(
            kind="recorded",
            section=section,
            id=key,
            before=None if old is ABSENT else old,
            after=None if new is ABSENT else new,
            consequence="record",
            at_before=None if old is ABSENT else join(*section.split("."), old_key),
            at_after=None if new is ABSENT else join(*section.split("."), key),
            text=f"{key}: {text}",
        )
        return
    for field in _differing(old, new):
        a, b = old.get(field, ABSENT), new.get(field, ABSENT)
        yield Change(
            kind="recorded",
            section=section,
            id=key,
            field=field,
            before=None if a is ABSENT else a,
            after=None if b is ABSENT else b,
            consequence="record",
            at_before=None if a is ABSENT else join(*section.split("."), old_key, field),
            at_after=None if b is ABSENT else join(*section.split("."), key, field),
            text=f"{key}: {change_words(field, a, b)}",
        )


def _differing(old: dict[str, Any], new: dict[str, Any]) -> Iterator[str]:
    """Give the fields of a record that say something else; a value with its signature equals one that inherits it.

    Where a side signs a value by itself, the day and name of the whole thing count only through what inherits them.
    """
    long = any(isinstance(value, dict) for value in (*old.values(), *new.values()))
    for field in dict.fromkeys((*old, *new)):
        if _differs(field, old, new, long=long):
            yield field


def _differs(field: str, old: dict[str, Any], new: dict[str, Any], *, long: bool) -> bool:
    a, b = old.get(field, ABSENT), new.get(field, ABSENT)
    if not long:
        return not json_equal(a, b)
    if field in ("date", "by"):
        return False
    if field in _NOTED or a is ABSENT or b is ABSENT:
        return not json_equal(a, b)
    return _seen(old, field) != _seen(new, field)


_NOTED = ("serial", "remark", "photos")


def _seen(fields: dict[str, Any], field: str) -> tuple[Any, ...]:
    """Give a value with when, by whom and with what it was seen."""
    own = fields.get(field)
    value = own.get("result", own.get("value")) if isinstance(own, dict) else own
    sign = signature(fields, field)
    return value, sign.date, sign.by, sign.with_


def of_acceptances(sides: Sides) -> Iterator[Change]:
    """Tell which findings are accepted now, or no longer."""
    before, after = sides.before.accepted, sides.after.accepted
    for key in dict.fromkeys((*before, *after)):
        old, new = before.get(key, {}), after.get(key, {})
        fields = [
            change_words(field, a, b)
            for field in dict.fromkeys((*old, *new))
            for a, b in ((old.get(field, ABSENT), new.get(field, ABSENT)),)
            if not json_equal(a, b)
        ]
        if not fields:
            continue
        kind: Kind = "removed" if key not in after else "changed" if key in before else "added"
        yield Change(
            kind=kind,
            section="accepted",
            id=key,
            before=before.get(key),
            after=after.get(key),
            consequence="record",
            at_before=join("accepted", sides.before.acceptance_index[key]) if key in before else None,
            at_after=join("accepted", sides.after.acceptance_index[key]) if key in after else None,
            text={
                "added": f"{key} is now accepted: {new.get('because', 'no reason given')}",
                "removed": f"{key} is no longer accepted",
                "changed": f"acceptance of {key}: {'; '.join(fields)}",
            }[kind],
        )
