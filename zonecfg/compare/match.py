"""Who is who: things with one id are one thing; a new id is the old thing only where that is certain."""

from collections.abc import Iterator, Mapping
from typing import Any

from zonecfg.compare.rename import Names
from zonecfg.compare.view import View, renamed_view
from zonecfg.model.grammar import grammar


def renames(before: View, after: View) -> Names:
    """Find things whose id changed.

    A thing is renamed where its serial is the same; else where all its fields are equal, everything that named the
    old id names the new one, and no other thing would fit. What is not certain is told as removed and added.
    """
    plan = grammar()
    own_ids = [name for name in plan.things if plan.holder(name).said.keyed_by is None]
    found: dict[str, dict[str, str]] = {}
    for section in (name for name in own_ids if "serial" in plan.things[name].keys):
        for old, new in _by_serial(before.things[section], after.things[section]):
            found.setdefault(section, {})[old] = new
    while True:
        moved = renamed_view(before, found)
        fresh = {section: pairs for section in own_ids if (pairs := dict(_by_content(section, moved, after)))}
        if not fresh:
            return found
        for section, pairs in fresh.items():
            found.setdefault(section, {}).update(pairs)


def _by_serial(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    gone, new = _one_sided(before, after)
    if not gone or not new:
        return
    old_by, new_by = by_serial(before), by_serial(after)
    for serial, old in old_by.items():
        fresh = new_by.get(serial)
        if fresh is not None and old in gone and fresh in new:
            yield old, fresh


def by_serial(things: Mapping[str, Any]) -> dict[str, str]:
    """Ids by serial, where a serial stands once."""
    found: dict[str, list[str]] = {}
    for key, fields in things.items():
        if "serial" in fields:
            found.setdefault(fields["serial"], []).append(key)
    return {serial: keys[0] for serial, keys in found.items() if len(keys) == 1}


def _one_sided(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[set[str], set[str]]:
    return _only_in(before, after), _only_in(after, before)


def _only_in(one: Mapping[str, Any], other: Mapping[str, Any]) -> set[str]:
    return {key for key in one if key not in other}


def _by_content(section: str, before: View, after: View) -> Iterator[tuple[str, str]]:
    gone, new = _one_sided(before.things[section], after.things[section])
    if not gone or not new:
        return
    old, fresh = _portraits(section, before, gone), _portraits(section, after, new)
    for portrait, names in old.items():
        if len(names) == 1 and len(fresh.get(portrait, ())) == 1:
            yield names[0], fresh[portrait][0]


def _portraits(section: str, view: View, keys: set[str]) -> dict[str, list[str]]:
    """Things by all that is said of them: their fields, and the places that name them."""
    named: dict[str, list[str]] = {key: [] for key in keys}
    for place, name in view.references(section):
        if name in named:
            named[name].append(place)
    found: dict[str, list[str]] = {}
    for key in sorted(keys):
        if named[key]:  # what nothing names could be anything
            portrait = repr((view.portrait(section, key), sorted(named[key])))
            found.setdefault(portrait, []).append(key)
    return found
