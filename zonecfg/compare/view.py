"""A site laid out for comparing: every section as things with plain fields, lists of ids as sets."""

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from zonecfg.model.sections import NODES, THINGS
from zonecfg.model.site import Site
from zonecfg.results.pointer import join

SETS = frozenset({"actuators", "carries", "copy_also_holds", "protection", "saved_copy_keeps"})
"""Fields whose lists say the same in any order."""

RECORDS = {
    "controllers": "controllers",
    "actuators": "actuators",
    "groups": "groups",
    "sensors": "sensors",
    "buses": "controllers",
}
"""Parts of a record, and the section whose things they speak of."""

# (section, field): the single-valued references to things that can be renamed, by the section they name.
REFERENCES: dict[str, tuple[tuple[str, str], ...]] = {
    "rooms": (
        ("openings", "room"), ("controllers", "room"), ("supplies", "room"), ("sensors", "room"), ("junctions", "room"),
    ),
    "openings": (("actuators", "opening"),),
    "controllers": (
        ("actuators", "controller"), ("groups", "controller"), ("sensors", "controller"), ("cables", "from"),
        ("cables", "to"),
    ),
    "supplies": (("cables", "from"), ("cables", "to")),
    "actuators": (("cables", "from"), ("cables", "to")),
    "sensors": (("cables", "from"), ("cables", "to")),
    "junctions": (("cables", "from"), ("cables", "to")),
}  # fmt: skip


class View(Struct, frozen=True):
    """One side of a comparison."""

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
        for owner, field in REFERENCES.get(section, ()):
            for key, fields in self.things[owner].items():
                if not key.startswith("x-") and field in fields:
                    yield f"{owner}/{key}/{field}", fields[field]
        if section == "actuators":
            for group, members in self.members.items():
                yield from ((f"groups/{group}", member) for member in members)
        if section == "groups":
            for sensor, groups in self.links.items():
                yield from ((f"links/{sensor}", group) for group in groups)
            for action in ("wet_weather", "strong_wind"):
                yield from ((action, group) for group in self.things[action])
            yield from (("members", group) for group, members in self.members.items() if members)
        if section == "sensors":
            yield from (("links", sensor) for sensor in self.links)
        if section in NODES:
            yield from (("terminators", node) for node in self.terminators)
        if section == "cables":
            yield from (("cables", key) for key in self.things["cables"])

    def portrait(self, section: str, key: str) -> Any:
        """All that a thing says itself, in a form that can be compared."""
        return (
            normal(self.things[section][key]),
            sorted(self.members[key]) if section == "groups" else None,
            sorted(self.links.get(key, ())) if section == "sensors" else None,
            [normal(self.things[a].get(key)) for a in ("wet_weather", "strong_wind")] if section == "groups" else None,
        )


def is_set(key: str, value: Any) -> bool:
    """Whether a field's list says the same in any order."""
    return key in SETS and isinstance(value, list) and all(isinstance(item, str) for item in value)


def normal(value: Any) -> Any:
    """Bring a thing's fields into one order, lists of ids as sets; equal exactly when they say the same."""
    if not isinstance(value, dict):
        return value
    return sorted((key, sorted(set(item)) if is_set(key, item) else normal(item)) for key, item in value.items())


def view(site: Site) -> View:
    """Lay a site out."""
    own = site.own
    things: dict[str, Mapping[str, Any]] = {name: own.get(name) or {} for name in THINGS}
    things["groups"] = {
        key: {name: value for name, value in fields.items() if name != "actuators"}
        if isinstance(fields, dict)
        else fields
        for key, fields in things["groups"].items()
    }
    for section, kinds in site.types.items():
        things[f"types.{section}"] = kinds
    things["site"] = {"site": own.get("site") or {}}
    things["saved"] = {"saved": own["saved"]} if own.get("saved") else {}
    for key, value in own.items():
        if key.startswith("x-"):
            things[key] = {key: value}
    for section in ("links", "types", "record"):
        for key, value in (own.get(section) or {}).items():
            if key.startswith("x-"):
                things[f"{section}.{key}"] = {key: value}
    record = own.get("record") or {}
    accepted, index = acceptances(own.get("accepted") or [])
    return View(
        things=things,
        members={g.id: frozenset(g.actuators or ()) for g in site.groups.values()},
        links={sensor: frozenset(groups) for sensor, groups in site.links.items() if groups},
        terminators=frozenset(site.terminators),
        record={part: record.get(part) or {} for part in RECORDS},
        accepted=accepted,
        acceptance_index=index,
    )


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


def renamed_view(side: View, renames: Mapping[str, Mapping[str, str]]) -> View:
    """Lay a view out again with new ids wherever the old ones stand."""
    if not renames:
        return side
    to = {section: dict(pairs) for section, pairs in renames.items()}
    nodes = {old: new for section in NODES for old, new in to.get(section, {}).items()}
    new_of = {(owner, field): to[section] for section in to for owner, field in REFERENCES.get(section, ())}
    new_of |= {("cables", end): nodes for end in ("from", "to")}
    things = {}
    for section, held in side.things.items():
        base = "groups" if section in {"wet_weather", "strong_wind"} else section
        fields_of = {field: names for (owner, field), names in new_of.items() if owner == section}
        names = to.get(base, {})
        if names or fields_of:
            held = {  # noqa: PLW2901
                names.get(key, key): fields if key.startswith("x-") else _with_new_names(fields, fields_of)
                for key, fields in held.items()
            }
        things[section] = held
    actuators, sensors, groups = (to.get(s, {}) for s in ("actuators", "sensors", "groups"))
    return View(
        things=things,
        members={groups.get(g, g): frozenset(actuators.get(m, m) for m in ms) for g, ms in side.members.items()},
        links={sensors.get(s, s): frozenset(groups.get(g, g) for g in gs) for s, gs in side.links.items()},
        terminators=frozenset(nodes.get(node, node) for node in side.terminators),
        record={
            part: {to.get(RECORDS[part], {}).get(key, key): value for key, value in held.items()}
            for part, held in side.record.items()
        },
        **_acceptances_renamed(side, to),
    )


def _acceptances_renamed(side: View, to: Mapping[str, Mapping[str, str]]) -> dict[str, Any]:
    items: list[Any] = [{} for _ in side.accepted]
    for key, item in side.accepted.items():
        section, _, rest = str(item.get("at")).removeprefix("/").partition("/")
        thing, _, below = rest.partition("/")
        new = to.get(section, {}).get(thing)
        moved = {**item, "at": "/".join(("", section, new, *([below] if below else [])))} if new else item
        items[side.acceptance_index[key]] = moved
    accepted, index = acceptances(items)
    return {"accepted": accepted, "acceptance_index": index}


def _with_new_names(fields: Mapping[str, Any], names_of: Mapping[str, Mapping[str, str]]) -> dict[str, Any]:
    return {key: names_of[key].get(value, value) if key in names_of else value for key, value in fields.items()}


def is_own(section: str, key: str) -> bool:
    """Whether a section is a key of the user's own, at the top or where a section has ids; it is its only thing too."""
    return key.startswith("x-") and f".{section}".endswith(f".{key}")


def pointer_to(section: str, key: str, *below: str) -> str:
    """JSON Pointer to a thing of a view, or to what stands below it."""
    if is_own(section, key):
        return join(*section.split(".", 1), *below)
    if section in {"site", "saved"}:
        return join(section, *below)
    return join(*section.split("."), key, *below)
