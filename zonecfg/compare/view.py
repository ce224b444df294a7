"""A site laid out for comparing: every section as things with plain fields, lists of ids as sets."""

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from zonecfg.compare.rename import Names, with_new_ids
from zonecfg.model.grammar import Node, grammar
from zonecfg.model.site import Site
from zonecfg.results.own import is_own
from zonecfg.results.pointer import join


class View(Struct, frozen=True):
    """One side of a comparison."""

    data: Mapping[str, Any]
    """The file's data."""
    types: Mapping[str, Any]
    """All types by section, those of catalogues too."""
    things: Mapping[str, Mapping[str, Any]]
    """Section to id to fields; a group's members stand apart."""
    members: Mapping[str, frozenset[str]]
    """Group to members."""
    links: Mapping[str, frozenset[str]]
    """Sensor to groups."""
    terminators: frozenset[str]
    record: Mapping[str, Mapping[str, Any]]
    accepted: Mapping[str, Mapping[str, Any]]
    acceptance_index: Mapping[str, int]

    def references(self, section: str) -> Iterator[tuple[str, str]]:
        """Every place that names a thing of a section: the place in words, and the name."""
        for reference, path, name in grammar().names(self.data, section):
            if path[0] not in {"record", "types"}:  # what was seen names everything, and a type nothing
                yield "/".join(str(step) for step in path[: len(reference.route)]), name
        if section == "groups":
            yield from (("members", group) for group, members in self.members.items() if members)
        if section == "cables":
            yield from (("cables", key) for key in self.things["cables"])

    def portrait(self, section: str, key: str) -> Any:
        """All that a thing says itself, and the settings that are its own, in a form that can be compared."""
        plan = grammar()
        return [
            normal(node.each, (self.data.get(name) or {}).get(key))
            for name, node in plan.root.keys.items()
            if name == section or (node.said.setting and node.said.keyed_by == section)
        ]


def normal(node: Node | None, value: Any) -> Any:
    """Bring what stands at a node into one order, lists of ids as sets; equal exactly when it says the same."""
    if isinstance(value, dict):
        return sorted((key, normal(None if node is None else node.below(key), item)) for key, item in value.items())
    return sorted(set(value)) if is_set(node, value) else value


def is_set(node: Node | None, value: Any) -> bool:
    """Whether a list says the same in any order."""
    return (
        node is not None
        and node.kind == "set"
        and isinstance(value, list)
        and all(isinstance(item, str) for item in value)
    )


def view(data: Mapping[str, Any], types: Mapping[str, Any]) -> View:
    """Lay a plan out that has no faults of reading; ``types`` are all that it may use."""
    plan = grammar()
    things: dict[str, Mapping[str, Any]] = {name: data.get(name) or {} for name in plan.things}
    groups = things["groups"]
    things["groups"] = {
        key: {name: value for name, value in fields.items() if name != "actuators"} for key, fields in groups.items()
    }
    for section, kinds in types.items():
        things[f"types.{section}"] = kinds
    things["site"] = {"site": data.get("site") or {}}
    things["saved"] = {"saved": data["saved"]} if data.get("saved") else {}
    things |= {key: {key: value} for key, value in data.items() if is_own(key)}
    for section in ("types", "record"):
        held = data.get(section) or {}
        things |= {f"{section}.{key}": {key: value} for key, value in held.items() if is_own(key)}
    record = data.get("record") or {}
    accepted, index = acceptances(data.get("accepted") or [])
    return View(
        data=data,
        types=types,
        things=things,
        members={key: frozenset(fields.get("actuators") or ()) for key, fields in groups.items()},
        links={sensor: frozenset(groups) for sensor, groups in (data.get("links") or {}).items() if groups},
        terminators=frozenset(data.get("terminators") or ()),
        record={part: record.get(part) or {} for part in plan.root.keys["record"].keys},
        accepted=accepted,
        acceptance_index=index,
    )


def view_of(site: Site) -> View:
    """Lay a site out."""
    return view(site.own, site.types)


def acceptances(items: list[Any]) -> tuple[dict[str, Any], dict[str, int]]:
    """Name each acceptance by what it accepts; give them by name, and the place of each in the list."""
    found: dict[str, Any] = {}
    index: dict[str, int] = {}
    for position, item in enumerate(items):
        name = f"{item.get('check', '?')} at {item.get('at', '?')}"
        double = 1
        key = name
        while key in found:
            double += 1
            key = f"{name} ({double})"
        found[key] = item
        index[key] = position
    return found, index


def renamed_view(side: View, names: Names) -> View:
    """Lay a view out again with new ids wherever the old ones stand."""
    if not names:
        return side
    return view(with_new_ids(side.data, names), with_new_ids({"types": side.types}, names)["types"])


def is_users_own(section: str) -> bool:
    """Whether a section is a key of the user's own, at the top or within a section; it is its only thing too."""
    return is_own(section) or is_own(section.partition(".")[2])


def pointer_to(section: str, key: str, *below: str) -> str:
    """JSON Pointer to a thing of a view, or to what stands below it."""
    if is_own(section) or section in {"site", "saved"}:
        return join(section, *below)
    if is_users_own(section):
        return join(*section.split(".", 1), *below)
    return join(*section.split("."), key, *below)
