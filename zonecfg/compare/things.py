"""What changed of things and their fields: came, went, renamed, replaced, moved to another window."""

from collections.abc import Iterator, Mapping
from typing import Any

from zonecfg.compare.consequence import of_field, of_membership, of_thing
from zonecfg.compare.inside import inner_changes
from zonecfg.compare.patch import identical
from zonecfg.compare.sides import ABSENT, Sides, say_the_same
from zonecfg.compare.view import View, is_users_own, pointer_to
from zonecfg.compare.words import ONE, change_words, holding, name_of
from zonecfg.model.grammar import grammar
from zonecfg.results.change import Change, Consequence, Kind
from zonecfg.results.own import is_own


def renamings(sides: Sides) -> Iterator[Change]:
    """Tell the things whose id changed."""
    for section, pairs in sides.renames.items():
        for old, new in pairs.items():
            yield Change(
                kind="renamed",
                section=section,
                id=new,
                field="id",
                before=old,
                after=new,
                consequence="record",
                at_before=pointer_to(section, old),
                at_after=pointer_to(section, new),
                text=f"{ONE[section]} {old} is now called {new}",
            )


def of_section(sides: Sides, section: str) -> Iterator[Change]:
    """Tell what came, went or changed in one section."""
    before, after = sides.before.things.get(section, {}), sides.after.things.get(section, {})
    if identical(before, after):
        return
    node = grammar().at(section.split("."))
    held_by = None if node is None else node.said.keyed_by
    for key in dict.fromkeys((*before, *after)):
        if held_by is not None and sides.one_sided(held_by, key):
            continue
        old, new = before.get(key, ABSENT), after.get(key, ABSENT)
        if old is ABSENT or new is ABSENT:
            yield _one_side(sides, section, key, new is ABSENT)
        elif not identical(old, new):
            yield from _of_fields(sides, section, key, old, new)


def _one_side(sides: Sides, section: str, key: str, gone: bool) -> Change:
    side, kind = (sides.before, "removed") if gone else (sides.after, "added")
    own = is_users_own(section)
    held = side.things[section][key] if own else _held(side, section, key)
    at = pointer_to(section, key)
    return Change(
        kind=kind,  # type: ignore[arg-type]
        section=section,
        id=key,
        before=held if gone else None,
        after=None if gone else held,
        consequence=of_thing(section, key, sides.sites),
        at_before=at if gone else None,
        at_after=None if gone else at,
        text=f"{name_of(section, key)} {kind}{'' if own else holding(section, held)}",
    )


def _held(side: View, section: str, key: str) -> Any:
    """All that a thing holds: its fields, its membership, its links, its actions."""
    held = dict(side.things[section][key])
    if section == "actuators":
        held["groups"] = sorted(group for group, members in side.members.items() if key in members)
    elif section == "groups":
        held["actuators"] = sorted(side.members[key])
        held["sensors"] = sorted(sensor for sensor, groups in side.links.items() if key in groups)
        for action in ("wet_weather", "strong_wind"):
            if key in side.things[action]:
                held[action] = side.things[action][key]
    elif section == "sensors":
        held["links"] = sorted(side.links.get(key, ()))
    return held


def _of_fields(sides: Sides, section: str, key: str, old: Any, new: Any) -> Iterator[Change]:
    if not isinstance(old, dict) or not isinstance(new, dict):
        inside = inner_changes(old, new)
        text = None if inside is None else f"{name_of(section, key)}: {inside}"
        yield _changed(sides, "changed", section, key, (), old, new, "record", text)
        return
    own = is_users_own(section)
    before, after = (
        {(name,): item for name, item in fields.items()} if own else _flat(fields) for fields in (old, new)
    )
    for path in dict.fromkeys((*before, *after)):
        a, b = before.get(path, ABSENT), after.get(path, ABSENT)
        if say_the_same(grammar().of(section, *path), a, b):
            continue
        field = ".".join(path)
        if own:
            inside = inner_changes(a, b)
            text = None if inside is None else f"{name_of(section, key)}: {field}: {inside}"
            yield _changed(sides, "changed", section, key, path, a, b, "record", text)
        elif section == "actuators" and field == "serial":
            yield from _of_serial(sides, key, a, b)
        elif section == "actuators" and field == "opening":
            was_on, is_on = ("no opening" if x is ABSENT else x for x in (a, b))
            text = f"{key} moved from {was_on} to {is_on}"
            consequence = of_membership(sides.ids(key), sides.sites)
            yield _changed(sides, "moved", section, key, path, a, b, consequence, text)
        elif field == "serial" and section in {"sensors", "controllers"}:
            yield _serial(sides, section, key, a, b)
        elif field == "firmware" and ABSENT in (a, b):
            text = f"{key}: firmware {b} recorded" if a is ABSENT else f"{key}: firmware {a} no longer recorded"
            yield _changed(sides, "recorded", section, key, path, a, b, "record", text)
        else:
            by_type = _by_type(sides, section, key, path, a)
            text = f"{name_of(section, key)}: {change_words(field, a, b, by_type)}"
            yield _changed(sides, "changed", section, key, path, a, b, of_field(section, *path), text)


def _changed(
    sides: Sides,
    kind: Kind,
    section: str,
    key: str,
    path: tuple[str, ...],
    before: Any,
    after: Any,
    consequence: Consequence,
    text: str | None = None,
) -> Change:
    at_before, at_after = sides.at(section, key, *path)
    field = ".".join(path) or None
    return Change(
        kind=kind,
        section=section,
        id=key,
        field=field,
        before=None if before is ABSENT else before,
        after=None if after is ABSENT else after,
        consequence=consequence,
        at_before=None if before is ABSENT else at_before,
        at_after=None if after is ABSENT else at_after,
        text=text or f"{name_of(section, key)}: {change_words(field, before, after)}",
    )


def _by_type(sides: Sides, section: str, key: str, path: tuple[str, ...], before: Any) -> Any:
    """What a thing has from its type on the side where it does not say so itself."""
    side, site = (sides.before, sides.sites[0]) if before is ABSENT else (sides.after, sides.sites[1])
    said = site.types.get(section, {}).get(side.things[section][key].get("type"))
    for step in path:
        said = said.get(step) if isinstance(said, Mapping) else None
    return said


def _of_serial(sides: Sides, key: str, old: Any, new: Any) -> Iterator[Change]:
    before, after = sides.serials
    old_is_elsewhere = old is ABSENT or (old in before and after.get(old, key) != key)
    new_was_elsewhere = new is ABSENT or (new in after and before.get(new, key) != key)
    if not (old_is_elsewhere and new_was_elsewhere):
        yield _serial(sides, "actuators", key, old, new)


def _serial(sides: Sides, section: str, key: str, old: Any, new: Any) -> Change:
    if old is ABSENT or new is ABSENT:
        text = f"{key}: serial {new} recorded" if old is ABSENT else f"{key}: serial {old} no longer recorded"
        return _changed(sides, "recorded", section, key, ("serial",), old, new, "record", text)
    text = f"{ONE[section]} {key} was replaced: serial {old}, now {new}"
    return _changed(sides, "replaced", section, key, ("serial",), old, new, "operation", text)


def moved_serials(sides: Sides) -> Iterator[Change]:
    """Tell the actuators that were moved: the serial of X found at Y, so that neither was replaced."""
    before, after = sides.serials
    for serial, key in before.items():
        now = after.get(serial)
        if now is None or now == key:
            continue
        old, new = sides.before.things["actuators"][key], sides.after.things["actuators"][now]
        was_on, is_on = old.get("opening"), new.get("opening")
        yield Change(
            kind="moved",
            section="actuators",
            id=key,
            field="opening",
            before=was_on,
            after=is_on,
            consequence="operation" if was_on == is_on else of_membership((key, now), sides.sites),
            at_before=pointer_to("actuators", key, "serial"),
            at_after=pointer_to("actuators", now, "serial"),
            text=f"the actuator with serial {serial} ({key}) moved from {was_on or 'no opening'} to "
            f"{is_on or 'no opening'}, where it is {now}",
        )


def _flat(fields: Mapping[str, Any], above: tuple[str, ...] = ()) -> dict[tuple[str, ...], Any]:
    """Fields by their path, so that a field of a field is told by itself; the user's own stay whole."""
    found: dict[tuple[str, ...], Any] = {}
    for key, value in fields.items():
        path = (*above, key)
        found.update(_flat(value, path) if isinstance(value, dict) and value and not is_own(key) else {path: value})
    return found
