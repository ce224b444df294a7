"""The two sides of a comparison, laid out with one set of ids."""

from functools import cached_property
from typing import Any

from zonecfg.compare.match import by_serial, renames
from zonecfg.compare.patch import json_equal
from zonecfg.compare.view import is_set, pointer_to, renamed_view, view_of
from zonecfg.model.grammar import Node
from zonecfg.model.site import Site

ABSENT: Any = object()
"""Stands for a field or thing that one side has not."""


class Sides:
    """Two sites, and their views under the ids of the second one."""

    def __init__(self, before: Site, after: Site) -> None:
        self.sites = (before, after)
        first = view_of(before)
        self.after = view_of(after)
        self.renames = renames(first, self.after)
        self.before = renamed_view(first, self.renames)
        self.old = {section: {new: old for old, new in pairs.items()} for section, pairs in self.renames.items()}

    def old_id(self, section: str, key: str) -> str:
        """Give the id that a thing has in the first site."""
        return self.old.get(section, {}).get(key, key)

    def ids(self, actuator: str) -> tuple[str, str]:
        """Give the ids that an actuator has in the first and in the second site."""
        return self.old_id("actuators", actuator), actuator

    def old_group(self, group: str) -> str:
        """Give the id that a group has in the first site."""
        return self.old_id("groups", group)

    def at(self, section: str, key: str, *below: str) -> tuple[str, str]:
        """Pointers to a thing, or to what stands below it, in the first and in the second site."""
        return pointer_to(section, self.old_id(section, key), *below), pointer_to(section, key, *below)

    def one_sided(self, section: str, key: str) -> bool:
        """Whether a thing came or went, so that what it holds is told with it."""
        return (key in self.before.things[section]) != (key in self.after.things[section])

    @cached_property
    def serials(self) -> tuple[dict[str, str], dict[str, str]]:
        """Actuators by serial on both sides, where a serial stands once."""
        return by_serial(self.before.things["actuators"]), by_serial(self.after.things["actuators"])


def say_the_same(node: Node | None, a: Any, b: Any) -> bool:
    """Whether two values of a field mean the same; lists of ids are sets."""
    if is_set(node, a) and is_set(node, b):
        return set(a) == set(b)
    return json_equal(a, b)
