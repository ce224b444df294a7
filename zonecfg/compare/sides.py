"""The two sides of a comparison, laid out with one set of ids."""

from collections.abc import Mapping
from functools import cached_property
from typing import Any

from zonecfg.compare.match import renames
from zonecfg.compare.patch import same
from zonecfg.compare.view import is_set, normal, pointer_to, renamed_view, view
from zonecfg.model.site import Site

ABSENT: Any = object()
"""Stands for a field or thing that one side has not."""


class Sides:
    """Two sites, and their views under the ids of the second one."""

    def __init__(self, before: Site, after: Site) -> None:
        self.sites = (before, after)
        first = view(before)
        self.after = view(after)
        self.renames = renames(first, self.after)
        self.before = renamed_view(first, self.renames)
        self.old = {section: {new: old for old, new in pairs.items()} for section, pairs in self.renames.items()}

    def old_id(self, section: str, key: str) -> str:
        """Give the id that a thing has in the first site."""
        base = "groups" if section in {"wet_weather", "strong_wind"} else section
        return self.old.get(base, {}).get(key, key)

    def old_group(self, group: str) -> str:
        """Give the id that a group has in the first site."""
        return self.old_id("groups", group)

    def at(self, section: str, key: str, field: str | None = None) -> tuple[str, str]:
        """Pointers to a thing or field in the first and in the second site."""
        return pointer_to(section, self.old_id(section, key), field), pointer_to(section, key, field)

    def one_sided(self, section: str, key: str) -> bool:
        """Whether a thing came or went, so that what it holds is told with it."""
        in_before = key in self.before.things.get(section, {})
        return in_before != (key in self.after.things.get(section, {}))

    @cached_property
    def serials(self) -> tuple[dict[str, str], dict[str, str]]:
        """Actuators by serial on both sides, where a serial stands once."""
        return _by_serial(self.before.things["actuators"]), _by_serial(self.after.things["actuators"])


def say_the_same(field: str, a: Any, b: Any) -> bool:
    """Whether two values of a field mean the same; lists of ids are sets."""
    if a is ABSENT or b is ABSENT:
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
        serial = fields.get("serial") if isinstance(fields, dict) and not key.startswith("x-") else None
        if serial is not None:
            found[serial] = None if serial in found else key
    return {serial: key for serial, key in found.items() if key is not None}
