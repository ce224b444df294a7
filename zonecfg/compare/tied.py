"""Which things go together when one of them is in dispute: what names it, and what it names."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from zonecfg.compare.sets import Members, agree, field
from zonecfg.compare.view import RECORDS, REFERENCES
from zonecfg.model.sections import NODES, THINGS, TYPED

Thing = tuple[str, str]
"""Section and id; a type's section is ``types.openings``."""

_HELD = {"wet_weather": "groups", "strong_wind": "groups", "links": "sensors"}


def thing_at(path: tuple[str, ...]) -> Thing | None:
    """Give the thing that a mapping or list at a path tells about; none for what lies above or within."""
    if len(path) == 2 and (path[0] in THINGS or path[0] in _HELD):
        return _HELD.get(path[0], path[0]), path[1]
    if len(path) == 3 and path[0] == "types":
        return f"types.{path[1]}", path[2]
    if len(path) == 3 and path[0] == "record" and path[1] in RECORDS:
        return RECORDS[path[1]], path[2]
    return None


def things(data: Any) -> dict[Thing, Any]:
    """Give every thing of a file by section and id."""
    found: dict[Thing, Any] = {}
    for section in (name for name in THINGS if name not in _HELD):
        held = field(data, section)
        found.update({(section, key): held[key] for key in held} if isinstance(held, Mapping) else {})
    for section in TYPED:
        held = field(field(data, "types"), section)
        found.update({(f"types.{section}", key): held[key] for key in held} if isinstance(held, Mapping) else {})
    return {thing: fields for thing, fields in found.items() if not thing[1].startswith("x-")}


def removed_and_changed(base: Any, ours: Any, theirs: Any) -> set[Thing]:
    """Find things that one side took away and the other changed."""
    was, here, there = things(base), things(ours), things(theirs)
    return {
        thing
        for thing, fields in was.items()
        if (thing in here) != (thing in there) and not agree(fields, here.get(thing, there.get(thing)))
    }


def going_along(tied: Iterable[Thing], base: Any, ours: Any, theirs: Any) -> frozenset[Thing]:
    """Add the things that came or went on one side together with those in dispute."""
    found = set(tied)
    if not found:
        return frozenset()
    here, there = things(ours), things(theirs)
    one_sided = here.keys() ^ there.keys()
    near: dict[Thing, set[Thing]] = {}
    for data in (base, ours, theirs):
        for one, other in _pairs(data):
            near.setdefault(one, set()).add(other)
            near.setdefault(other, set()).add(one)
    new = set(found)
    while new:
        new = {other for thing in new for other in near.get(thing, ()) if other in one_sided} - found
        found |= new
    return frozenset(found)


def _pairs(data: Any) -> Iterator[tuple[Thing, Thing]]:
    """Give every two things of which one names the other, and every two groups that share a member."""
    held = things(data)
    for wanted, places in REFERENCES.items():
        for owner, name in places:
            for (section, key), fields in held.items():
                if section == owner and isinstance(named := field(fields, name), str):
                    yield (section, key), (wanted, named)
    for (section, key), fields in held.items():
        if section in TYPED and isinstance(kind := field(fields, "type"), str):
            yield (section, key), (f"types.{section}", kind)
        members = field(fields, "actuators")
        if isinstance(members, Members):
            yield from ((("groups", key), ("actuators", member)) for member in members)
    links = field(data, "links")
    for sensor, groups in links.items() if isinstance(links, Mapping) else ():
        if isinstance(groups, tuple):
            yield from ((("sensors", sensor), ("groups", group)) for group in groups)


def homes(data: Any) -> dict[str, frozenset[str]]:
    """Give the groups of each actuator that is in one."""
    found: dict[str, set[str]] = {}
    groups = field(data, "groups")
    for group, fields in groups.items() if isinstance(groups, Mapping) else ():
        members = field(fields, "actuators")
        for member in members if isinstance(members, Members) else ():
            found.setdefault(member, set()).add(group)
    return {member: frozenset(names) for member, names in found.items()}


def is_node(tied: frozenset[Thing], name: str) -> bool:
    """Whether a name that cables and terminators use is one of the things in dispute."""
    return any((section, name) in tied for section in NODES)
