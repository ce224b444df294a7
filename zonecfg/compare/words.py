"""How a change is put into words."""

from collections.abc import Mapping
from typing import Any

from zonecfg.results.words import counted, listed

ONE = {
    "rooms": "room", "openings": "opening", "controllers": "controller", "supplies": "supply", "actuators": "actuator",
    "groups": "group", "sensors": "sensor", "junctions": "junction", "cables": "cable",
    "wet_weather": "wet-weather action of", "strong_wind": "strong-wind action of",
}  # fmt: skip


def name_of(section: str, key: str) -> str:
    """Name a thing with what it is."""
    if section.startswith("types."):
        return f"{ONE[section.removeprefix('types.')]} type {key}"
    if section in {"site", "saved"} or section == key:
        return section
    return f"{ONE.get(section, section)} {key}"


def holding(section: str, held: Any) -> str:
    """Say in brackets what a thing holds that came or went."""
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
        return f" ({', '.join([*where, home_words(held['groups'])])})"
    if section == "sensors":
        return f" (acts on {listed(held['links'])})" if held["links"] else " (acts on no group)"
    if section in {"wet_weather", "strong_wind"}:
        return f" ({listed(f'{field} {shown(value)}' for field, value in held.items())})" if held else ""
    return ""


def home_words(groups: list[str]) -> str:
    """Say which groups an actuator is in."""
    return f"in {listed(groups)}" if groups else "in no group"


def says(field: str | None, before: Any, after: Any) -> str:
    """Say how one field changed."""
    name = field or "value"
    if before is None:
        return f"{name} {shown(after)} (not given before)"
    if after is None:
        return f"{name} no longer given (was {shown(before)})"
    return f"{name} {shown(after)} (was {shown(before)})"


def shown(value: Any) -> str:
    """Write a value as people read it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list):
        return listed(map(str, value)) or "nothing"
    if isinstance(value, dict):
        return listed(f"{key} {shown(item)}" for key, item in value.items()) or "nothing"
    return str(value)


def field_words(fields: Mapping[str, Any]) -> list[str]:
    """Write the fields of a record, without when and by whom."""
    return [f"{field} {shown(value)}" for field, value in fields.items() if field not in {"date", "by"}]
