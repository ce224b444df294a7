"""Which things go together when one of them is in dispute: what names it, and what it names."""

from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from typing import Any

from zonecfg.compare.sets import Members, agree, value_under
from zonecfg.model.grammar import grammar

Thing = tuple[str, str]
"""Section and id; a type's section is ``types.openings``."""


def things(data: Any) -> dict[Thing, Any]:
    """Give every thing of a file by section and id; what stands under an id of another section is no thing itself."""
    plan = grammar()
    found: dict[Thing, Any] = {}
    for section in (*plan.things, *(f"types.{name}" for name in plan.typed)):
        if plan.holder(section).said.keyed_by is None:
            held = data
            for step in section.split("."):
                held = value_under(held, step)
            found.update({(section, key): held[key] for key in held} if isinstance(held, Mapping) else {})
    return found


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


def with_neighbours(found: AbstractSet[Thing], *files: Any) -> frozenset[Thing]:
    """Add to things what names them, and what they name, in any of several files."""
    near = set(found)
    for data in files:
        for one, other in _pairs(data):
            if one in found or other in found:
                near |= {one, other}
    return frozenset(near)


def _pairs(data: Any) -> Iterator[tuple[Thing, Thing]]:
    """Give every two things of which one names the other."""
    plan = grammar()
    for path, node, value in plan.walk(data):
        if node.kind == "value" and node.said.refers and isinstance(value, str):
            holder = plan.thing_above(path)
            if holder is not None:
                yield from ((holder, (section, value)) for section in plan.sections(node.said.refers))


def homes(data: Any) -> dict[str, frozenset[str]]:
    """Give the groups of each actuator that is in one."""
    found: dict[str, set[str]] = {}
    groups = value_under(data, "groups")
    for group, fields in groups.items() if isinstance(groups, Mapping) else ():
        members = value_under(fields, "actuators")
        for member in members if isinstance(members, Members) else ():
            found.setdefault(member, set()).add(group)
    return {member: frozenset(names) for member, names in found.items()}


def are_disputed(tied: frozenset[Thing], refers: str | None, name: str) -> bool:
    """Whether what a list refers to by a name is one of the things in dispute."""
    return refers is not None and any((section, name) in tied for section in grammar().sections(refers))
