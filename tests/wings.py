"""Two wings in one plan that share nothing but the site itself."""

from __future__ import annotations

import copy
from typing import Any

Data = dict[str, Any]

_REFERENCES = ("type", "room", "opening", "controller", "from", "to")
_SHARED = ("format", "state", "site", "accepted")


def wing(data: Data, mark: str) -> Data:
    """Rename whatever has an id, wherever it is named; what has a plan's only controller names it from here on."""
    data = copy.deepcopy(data)
    for section in ("actuators", "groups", "sensors"):
        for own in data.get(section, {}).values():
            if len(data.get("controllers", ())) == 1:
                own.setdefault("controller", *data["controllers"])
    renamed: Data = {}
    for section, things in data.items():
        if section in ("types", "record"):
            renamed[section] = {part: _keys(them, mark) for part, them in things.items()}
        elif section == "terminators":
            renamed[section] = _names(things, mark)
        elif section == "links":
            renamed[section] = {sensor: _names(groups, mark) for sensor, groups in _keys(things, mark).items()}
        elif section not in _SHARED:
            renamed[section] = {key: _own(fields, mark) for key, fields in _keys(things, mark).items()}
    return renamed


def joined(frame: Data, *wings: Data) -> Data:
    """Make one plan of wings; the frame has the site and its rules."""
    data = {key: frame[key] for key in _SHARED if key in frame}
    for part in wings:
        data = _merged(data, part)
    return data


def _keys(things: Data, mark: str) -> Data:
    return {f"{key}{mark}": fields for key, fields in things.items()}


def _names(names: list[str], mark: str) -> list[str]:
    return [f"{name}{mark}" for name in names]


def _own(fields: Data, mark: str) -> Data:
    fields = {key: f"{value}{mark}" if key in (*_REFERENCES, "serial") else value for key, value in fields.items()}
    return fields | ({"actuators": _names(fields["actuators"], mark)} if "actuators" in fields else {})


def _merged(one: Any, other: Any) -> Any:
    if not isinstance(one, dict):
        return one + other
    both = {key: _merged(one[key], other[key]) for key in one if key in other}
    return copy.deepcopy({**one, **other, **both})
