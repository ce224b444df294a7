"""How a change is put into words."""

from collections.abc import Mapping
from typing import Any

from zonecfg.compare.sides import ABSENT
from zonecfg.compare.view import is_users_own
from zonecfg.results.words import counted, listed

ONE = {
    "rooms": "room", "openings": "opening", "controllers": "controller", "supplies": "supply", "actuators": "actuator",
    "groups": "group", "sensors": "sensor", "junctions": "junction", "cables": "cable",
    "wet_weather": "wet-weather action of", "strong_wind": "strong-wind action of",
}  # fmt: skip


def name_of(section: str, key: str) -> str:
    """Name a thing with what it is."""
    if section in {"site", "saved"} or is_users_own(section):
        return section
    if section.startswith("types."):
        return f"{ONE[section.removeprefix('types.')]} type {key}"
    return f"{ONE[section]} {key}"


def holding(section: str, held: Mapping[str, Any]) -> str:
    """Say in brackets what a thing holds that came or went."""
    if section == "groups":
        parts = [counted(len(held["actuators"]), "actuator")]
        if held["sensors"]:
            parts.append(f"under {listed(held['sensors'])}")
        if "wet_weather" in held and "open_percent" in held["wet_weather"]:
            parts.append(f"at most {held['wet_weather']['open_percent']:g} % open in the rain")
        return f" ({', '.join(parts)})"
    if section == "actuators":
        where = [f"on {held['opening']}"] if "opening" in held else []
        return f" ({', '.join([*where, home_words(held['groups'])])})"
    if section == "sensors":
        return f" (acts on {listed(held['links'])})" if held["links"] else " (acts on no group)"
    if section in {"wet_weather", "strong_wind"}:
        return f" ({listed(f'{field} {value_words(value)}' for field, value in held.items())})" if held else ""
    return ""


def home_words(groups: list[str]) -> str:
    """Say which groups an actuator is in."""
    return f"in {listed(groups)}" if groups else "in no group"


def change_words(field: str | None, before: Any, after: Any, by_type: Any = None) -> str:
    """Say how one field changed; ``by_type`` is what the type says on the side where the thing itself says nothing."""
    name = field or "value"
    if before is ABSENT:
        was = "not given before" if by_type is None else f"was {value_words(by_type)}, from its type"
        return f"{name} {value_words(after)} ({was})"
    if after is ABSENT:
        now = "no longer given" if by_type is None else f"{value_words(by_type)}, from its type"
        return f"{name} {now} (was {value_words(before)})"
    return f"{name} {value_words(after)} (was {value_words(before)})"


def value_words(value: Any) -> str:
    """Write a value as people read it."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list):
        return listed(map(value_words, value)) or "nothing"
    if isinstance(value, dict):
        return listed(f"{key} {value_words(item)}" for key, item in value.items()) or "nothing"
    return str(value)


def field_words(fields: Mapping[str, Any]) -> list[str]:
    """Write the fields of a record, without when and by whom."""
    return [f"{field} {value_words(value)}" for field, value in fields.items() if field not in {"date", "by"}]


def dispute(path: tuple[str, ...], base: Any, ours: Any, theirs: Any) -> str:
    """Say where two sides changed one thing, and not alike."""
    where = "/".join(path)
    if path[0] == "actuators" and path[2:] == ("group",):
        homes = [home_words(list(side)) if isinstance(side, list) else "in no group" for side in (ours, theirs, base)]
        return f"{path[1]}: {homes[0]} in ours, {homes[1]} in theirs (was {homes[2]})"
    if any(side is ABSENT or isinstance(side, (dict, list)) for side in (ours, theirs)):
        did = [_did(base, side) for side in (ours, theirs)]
        return f"{where}: {did[0]} in ours, {did[1]} in theirs"
    was = "not given before" if base is ABSENT else f"was {value_words(base)}"
    return f"{where}: {value_words(ours)} in ours, {value_words(theirs)} in theirs ({was})"


def _did(base: Any, side: Any) -> str:
    if side is ABSENT:
        return "not there" if base is ABSENT else "removed"
    return "added" if base is ABSENT else "as it was" if base == side else "changed"
