"""Two sites to changes: each told once, as what it means."""

from collections.abc import Iterator, Mapping
from typing import Any

from zonecfg.compare.consequence import of_field, of_membership, of_thing
from zonecfg.compare.match import Renames, renames
from zonecfg.compare.patch import same
from zonecfg.compare.view import RECORDS, View, is_set, normal, pointer_to, renamed_view, view
from zonecfg.model.sections import ORDER
from zonecfg.model.site import Site
from zonecfg.results.change import Change, Consequence, Kind
from zonecfg.results.pointer import join
from zonecfg.results.words import counted, listed

_ONE = {
    "rooms": "room", "openings": "opening", "controllers": "controller", "supplies": "supply", "actuators": "actuator",
    "groups": "group", "sensors": "sensor", "junctions": "junction", "cables": "cable",
    "wet_weather": "wet-weather action of", "strong_wind": "strong-wind action of",
}  # fmt: skip
_ABSENT: Any = object()


def differences(before: Site, after: Site) -> tuple[list[Change], Renames]:
    """List what differs between two sites.

    Parameters
    ----------
    before, after
        The two states, catalogues resolved. Their ``state`` itself, the order of anything, comments and style do not
        count; lists of ids are sets.

    Returns
    -------
    list of Change
        In the order of sections, ids and fields; empty exactly when the two sites are equal.
    dict
        Ids that changed: section to old to new.
    """
    telling = _Telling(before, after)
    changes = list(telling.changes())
    changes.sort(key=lambda c: (_rank(c.section), c.section, c.id, c.field or "", str(c.before), str(c.after)))
    return changes, telling.renames


def _rank(section: str) -> int:
    base = section.split(".")[0]
    return ORDER.index(base) if base in ORDER else len(ORDER)


class _Telling:
    def __init__(self, before: Site, after: Site) -> None:
        self.sites = (before, after)
        first = view(before)
        self.after = view(after)
        self.renames = renames(first, self.after)
        self.before = renamed_view(first, self.renames)
        self._old = {s: {new: old for old, new in pairs.items()} for s, pairs in self.renames.items()}

    def changes(self) -> Iterator[Change]:
        yield from self._renamed()
        for section in dict.fromkeys((*self.before.things, *self.after.things)):
            yield from self._of_section(section)
        yield from self._moved_serials()
        yield from self._of_members()
        yield from self._of_links()
        yield from self._of_terminators()
        yield from self._of_records()
        yield from self._of_acceptances()

    # Where things stand, and which of them are on one side only.

    def _old_id(self, section: str, key: str) -> str:
        base = "groups" if section in {"wet_weather", "strong_wind"} else section
        return self._old.get(base, {}).get(key, key)

    def _at(self, section: str, key: str, field: str | None = None) -> tuple[str, str]:
        return pointer_to(section, self._old_id(section, key), field), pointer_to(section, key, field)

    def _one_sided(self, section: str, key: str) -> bool:
        """Whether a thing came or went, so that what it holds is told with it."""
        in_before = key in self.before.things.get(section, {})
        return in_before != (key in self.after.things.get(section, {}))

    def _renamed(self) -> Iterator[Change]:
        for section, pairs in self.renames.items():
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
                    text=f"{_ONE.get(section, section)} {old} is now called {new}",
                )

    # Things and their fields.

    def _of_section(self, section: str) -> Iterator[Change]:
        before, after = self.before.things.get(section, {}), self.after.things.get(section, {})
        held_by_group = section in {"wet_weather", "strong_wind"}
        for key in dict.fromkeys((*before, *after)):
            if held_by_group and self._one_sided("groups", key):
                continue
            old, new = before.get(key, _ABSENT), after.get(key, _ABSENT)
            if old is _ABSENT or new is _ABSENT:
                yield self._one_side(section, key, new is _ABSENT)
            elif old is not new and not (old == new and same(old, new)):
                yield from self._of_fields(section, key, old, new)

    def _one_side(self, section: str, key: str, gone: bool) -> Change:
        side, kind = (self.before, "removed") if gone else (self.after, "added")
        held = self._held(side, section, key)
        at = self._at(section, key)[0 if gone else 1]
        return Change(
            kind=kind,  # type: ignore[arg-type]
            section=section,
            id=key,
            before=held if gone else None,
            after=None if gone else held,
            consequence=of_thing(section, key, self.sites),
            at_before=at if gone else None,
            at_after=None if gone else at,
            text=f"{_name(section, key)} {kind}{_holding(section, held)}",
        )

    def _held(self, side: View, section: str, key: str) -> Any:
        """All that a thing holds: its fields, its membership, its links, its actions."""
        fields = side.things[section][key]
        if not isinstance(fields, dict):
            return fields
        held = dict(fields)
        if section == "actuators":
            held["groups"] = sorted(group for group, members in side.members.items() if key in members)
        elif section == "groups":
            held["actuators"] = sorted(side.members.get(key, ()))
            held["sensors"] = sorted(sensor for sensor, groups in side.links.items() if key in groups)
            for action in ("wet_weather", "strong_wind"):
                if key in side.things[action]:
                    held[action] = side.things[action][key]
        elif section == "sensors":
            held["links"] = sorted(side.links.get(key, ()))
        return held

    def _of_fields(self, section: str, key: str, old: Any, new: Any) -> Iterator[Change]:
        if not isinstance(old, dict) or not isinstance(new, dict):
            yield self._changed("changed", section, key, None, old, new, "record")
            return
        nested = section in {"site", "saved"} or section.removeprefix("types.") in {"controllers"}
        before, after = (_flat(old), _flat(new)) if nested else (old, new)
        for field in dict.fromkeys((*before, *after)):
            a, b = before.get(field, _ABSENT), after.get(field, _ABSENT)
            if _say_the_same(field, a, b):
                continue
            a, b = (None if x is _ABSENT else x for x in (a, b))
            if section == "actuators" and field == "serial":
                yield from self._of_serial(key, a, b)
            elif section == "actuators" and field == "opening":
                groups = [g for site in self.sites for g in site.groups_of.get(key, ())]
                text = f"{key} moved from {a or 'no opening'} to {b or 'no opening'}"
                consequence = of_membership(key, groups, self.sites)
                yield self._changed("moved", section, key, field, a, b, consequence, text)
            elif field == "serial" and section in {"sensors", "controllers"}:
                yield self._serial(section, key, a, b)
            else:
                yield self._changed("changed", section, key, field, a, b, of_field(section, field))

    def _changed(
        self,
        kind: Kind,
        section: str,
        key: str,
        field: str | None,
        before: Any,
        after: Any,
        consequence: Consequence,
        text: str | None = None,
    ) -> Change:
        at_before, at_after = self._at(section, key, field)
        return Change(
            kind=kind,
            section=section,
            id=key,
            field=field,
            before=before,
            after=after,
            consequence=consequence,
            at_before=None if before is None and field else at_before,
            at_after=None if after is None and field else at_after,
            text=text or f"{_name(section, key)}: {_says(field, before, after)}",
        )

    # Serials: which device is where.

    def _serials(self) -> tuple[dict[str, str], dict[str, str]]:
        return tuple(_by_serial(side.things["actuators"]) for side in (self.before, self.after))  # type: ignore[return-value]

    def _of_serial(self, key: str, old: str | None, new: str | None) -> Iterator[Change]:
        before, after = self._serials_found
        old_is_elsewhere = old is None or (old in before and after.get(old, key) != key)
        new_was_elsewhere = new is None or (new in after and before.get(new, key) != key)
        if not (old_is_elsewhere and new_was_elsewhere):
            yield self._serial("actuators", key, old, new)

    def _serial(self, section: str, key: str, old: str | None, new: str | None) -> Change:
        if old is None or new is None:
            text = f"{key}: serial {new} recorded" if new else f"{key}: serial {old} no longer recorded"
            return self._changed("recorded", section, key, "serial", old, new, "record", text)
        text = f"{_ONE[section]} {key} was replaced: serial {old}, now {new}"
        return self._changed("replaced", section, key, "serial", old, new, "operation", text)

    @property
    def _serials_found(self) -> tuple[dict[str, str], dict[str, str]]:
        if not hasattr(self, "_found"):
            self._found = self._serials()
        return self._found

    def _moved_serials(self) -> Iterator[Change]:
        """The serial of X found at Y: that device was moved, and X and Y are not replaced ones."""
        before, after = self._serials_found
        for serial, key in before.items():
            now = after.get(serial)
            if now is None or now == key:
                continue
            old, new = self.before.things["actuators"][key], self.after.things["actuators"][now]
            was_on, is_on = old.get("opening"), new.get("opening")
            groups = [g for k, site in ((self._old_id("actuators", key), self.sites[0]), (now, self.sites[1]))
                      for g in site.groups_of.get(k, ())]  # fmt: skip
            yield Change(
                kind="moved",
                section="actuators",
                id=key,
                field="opening",
                before=was_on,
                after=is_on,
                consequence="operation" if was_on == is_on else of_membership(now, groups, self.sites),
                at_before=pointer_to("actuators", self._old_id("actuators", key), "serial"),
                at_after=pointer_to("actuators", now, "serial"),
                text=f"the actuator with serial {serial} ({key}) moved from {was_on or 'no opening'} to "
                f"{is_on or 'no opening'}, where it is {now}",
            )

    # Settings.

    def _of_members(self) -> Iterator[Change]:
        before, after = _homes(self.before.members), _homes(self.after.members)
        for actuator in dict.fromkeys((*before, *after)):
            old, new = before.get(actuator, ()), after.get(actuator, ())
            if old == new or self._one_sided("actuators", actuator):
                continue
            gone = [g for g in old if not self._one_sided("groups", g)]
            come = [g for g in new if not self._one_sided("groups", g)]
            if (not gone and not new) or (not come and not old):
                continue  # told with the group that came or went
            at_before = self._member_at(0, old, actuator)
            at_after = self._member_at(1, new, actuator)
            if old and new:
                text = f"{actuator} moved from {listed(old)} to {listed(new)}"
            elif new:
                text = f"{actuator}, in no group before, put into {listed(new)}"
            else:
                text = f"{actuator} taken out of {listed(old)}, now in no group"
            yield Change(
                kind="moved",
                section="actuators",
                id=actuator,
                field="group",
                before=_one_or_list(old),
                after=_one_or_list(new),
                consequence=of_membership(actuator, [*map(self._old_group, old), *old, *new], self.sites),
                at_before=at_before,
                at_after=at_after,
                text=text,
            )

    def _old_group(self, group: str) -> str:
        return self._old_id("groups", group)

    def _member_at(self, side: int, groups: tuple[str, ...], actuator: str) -> str | None:
        if not groups:
            return None
        group, member = groups[-1], actuator
        if side == 0:
            group, member = self._old_group(group), self._old_id("actuators", actuator)
        return self.sites[side].member_at(group, member)

    def _of_links(self) -> Iterator[Change]:
        before = {(s, g) for s, groups in self.before.links.items() for g in groups}
        after = {(s, g) for s, groups in self.after.links.items() for g in groups}
        for sensor, group in sorted(before ^ after):
            if self._one_sided("sensors", sensor) or self._one_sided("groups", group):
                continue
            gone = (sensor, group) in before
            side = 0 if gone else 1
            names = (self._old_id("sensors", sensor), self._old_group(group)) if gone else (sensor, group)
            at = join("links", names[0], self.sites[side].links[names[0]].index(names[1]))
            yield Change(
                kind="unlinked" if gone else "linked",
                section="links",
                id=sensor,
                field="group",
                before=group if gone else None,
                after=None if gone else group,
                consequence="weather",
                at_before=at if gone else None,
                at_after=None if gone else at,
                text=f"{sensor} no longer acts on {group}" if gone else f"{sensor} now acts on {group}",
            )

    def _of_terminators(self) -> Iterator[Change]:
        for node in sorted(self.before.terminators ^ self.after.terminators):
            gone = node in self.before.terminators
            name = next((old for s in self._old for new, old in self._old[s].items() if new == node), node)
            listed_nodes = self.sites[0 if gone else 1].terminators
            at = join("terminators", listed_nodes.index(name if gone else node))
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

    # What was seen, and what is lived with.

    def _of_records(self) -> Iterator[Change]:
        for part, section in RECORDS.items():
            before, after = self.before.record[part], self.after.record[part]
            for key in dict.fromkeys((*before, *after)):
                old, new = before.get(key, _ABSENT), after.get(key, _ABSENT)
                if (old is _ABSENT or new is _ABSENT) and self._one_sided(section, key):
                    continue
                yield from self._recorded(f"record.{part}", key, old, new)

    def _recorded(self, section: str, key: str, old: Any, new: Any) -> Iterator[Change]:
        old_key = self._old_id(RECORDS[section.split(".")[1]], key)
        if old is _ABSENT or new is _ABSENT or not isinstance(old, dict) or not isinstance(new, dict):
            if old is not _ABSENT and new is not _ABSENT and same(old, new):
                return
            seen = new if old is _ABSENT else old
            fields = listed(_field_words(seen)) if isinstance(seen, dict) else str(seen)
            yield Change(
                kind="recorded",
                section=section,
                id=key,
                before=None if old is _ABSENT else old,
                after=None if new is _ABSENT else new,
                consequence="record",
                at_before=None if old is _ABSENT else join(*section.split("."), old_key),
                at_after=None if new is _ABSENT else join(*section.split("."), key),
                text=f"{key}: recorded {fields or 'nothing'}" if old is _ABSENT else f"{key}: record taken out",
            )
            return
        for field in dict.fromkeys((*old, *new)):
            a, b = old.get(field, _ABSENT), new.get(field, _ABSENT)
            if _say_the_same(field, a, b):
                continue
            yield Change(
                kind="recorded",
                section=section,
                id=key,
                field=field,
                before=None if a is _ABSENT else a,
                after=None if b is _ABSENT else b,
                consequence="record",
                at_before=None if a is _ABSENT else join(*section.split("."), old_key, field),
                at_after=None if b is _ABSENT else join(*section.split("."), key, field),
                text=f"{key}: {_says(field, None if a is _ABSENT else a, None if b is _ABSENT else b)}",
            )

    def _of_acceptances(self) -> Iterator[Change]:
        before, after = self.before.accepted, self.after.accepted
        for key in dict.fromkeys((*before, *after)):
            old, new = before.get(key), after.get(key)
            if old is not None and new is not None and same(old, new):
                continue
            at_before = None if old is None else join("accepted", self.before.acceptance_index[key])
            at_after = None if new is None else join("accepted", self.after.acceptance_index[key])
            kind: Kind = "changed" if old is not None and new is not None else "removed" if new is None else "added"
            because = (new or old or {}).get("because", "no reason given")
            yield Change(
                kind=kind,
                section="accepted",
                id=key,
                before=old,
                after=new,
                consequence="record",
                at_before=at_before,
                at_after=at_after,
                text={
                    "added": f"{key} is now accepted: {because}",
                    "removed": f"{key} is no longer accepted",
                    "changed": f"acceptance of {key} changed: {because}",
                }[kind],
            )


def _flat(fields: Mapping[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in fields.items():
        if isinstance(value, dict) and value and not key.startswith("x-"):
            found.update({f"{key}.{name}": item for name, item in value.items()})
        else:
            found[key] = value
    return found


def _say_the_same(field: str, a: Any, b: Any) -> bool:
    if a is _ABSENT or b is _ABSENT:
        return a is b
    if is_set(field.rsplit(".", 1)[-1], a) and is_set(field.rsplit(".", 1)[-1], b):
        return set(a) == set(b)
    if isinstance(a, dict) and isinstance(b, dict) and not field.startswith("x-"):
        return bool(normal(a) == normal(b)) and same(a, b)
    return same(a, b)


def _by_serial(things: Mapping[str, Any]) -> dict[str, str]:
    """Ids by serial, where a serial stands once."""
    found: dict[str, str | None] = {}
    for key, fields in things.items():
        serial = fields.get("serial") if isinstance(fields, dict) else None
        if serial is not None:
            found[serial] = None if serial in found else key
    return {serial: key for serial, key in found.items() if key is not None}


def _homes(members: Mapping[str, frozenset[str]]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for group in sorted(members):
        for actuator in members[group]:
            found.setdefault(actuator, []).append(group)
    return {actuator: tuple(groups) for actuator, groups in sorted(found.items())}


def _one_or_list(groups: tuple[str, ...]) -> Any:
    return None if not groups else groups[0] if len(groups) == 1 else list(groups)


def _name(section: str, key: str) -> str:
    if section.startswith("types."):
        return f"{_ONE[section.removeprefix('types.')]} type {key}"
    if section in {"site", "saved"} or section == key:
        return section
    return f"{_ONE.get(section, section)} {key}"


def _holding(section: str, held: Any) -> str:
    if not isinstance(held, dict):
        return ""
    if section == "groups":
        parts = [counted(len(held["actuators"]), "actuator")]
        if held["sensors"]:
            parts.append(f"under {listed(held['sensors'])}")
        if "wet_weather" in held and "open_percent" in held["wet_weather"]:
            parts.append(f"at most {held['wet_weather']['open_percent']:g} % open in the rain")
        return f" ({', '.join(parts)})"
    if section == "actuators":
        where = [f"on {held['opening']}"] if "opening" in held else []
        return f" ({', '.join([*where, _home_words(held["groups"])])})"
    if section == "sensors":
        return f" (acts on {listed(held['links'])})" if held["links"] else " (acts on no group)"
    if section in {"wet_weather", "strong_wind"}:
        return f" ({listed(f'{field} {_shown(value)}' for field, value in held.items())})" if held else ""
    return ""


def _home_words(groups: list[str]) -> str:
    return f"in {listed(groups)}" if groups else "in no group"


def _says(field: str | None, before: Any, after: Any) -> str:
    name = field or "value"
    if before is None:
        return f"{name} {_shown(after)} (not given before)"
    if after is None:
        return f"{name} no longer given (was {_shown(before)})"
    return f"{name} {_shown(after)} (was {_shown(before)})"


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list):
        return listed(map(str, value)) or "nothing"
    if isinstance(value, dict):
        return listed(f"{key} {_shown(item)}" for key, item in value.items()) or "nothing"
    return str(value)


def _field_words(fields: Mapping[str, Any]) -> list[str]:
    return [f"{field} {_shown(value)}" for field, value in fields.items() if field not in {"date", "by"}]

