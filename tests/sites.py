"""Sites of any size, as data and as YAML text: for benchmarks, and for tests that need many clean plans.

A site is a row of blocks. A block is a controller with its own supply, up to 40 actuators in groups of up to
eight, and two rain sensors that act on all of its groups. The first, third and fifth group hold pairs on wide
sashes, the others single actuators. Power branches at the supply, one branch a group; the bus is one line
from the controller through the groups to the sensors.
"""

from __future__ import annotations

import heapq
import json
import random
import re
from itertools import pairwise
from typing import Any

Data = dict[str, Any]

PER_CONTROLLER = 40
PER_GROUP = 8
MOVES_AT_ONCE = 4
TRAVEL_MM_S = 6
RESPONDS_S = 2

_PLAIN = re.compile(
    r"(?!(?:true|false|null|yes|no|on|off|y|n)\Z)[A-Za-z][A-Za-z0-9_./-]*(?: [A-Za-z0-9_./-]+)*\Z",
    re.IGNORECASE,
)
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}\Z")

_TYPES: Data = {
    "openings": {
        "wide-1200": {"hinge": "top-hung", "opens": "outward", "width_mm": 1200, "height_mm": 900,
                      "sash_mass_kg": 30, "stays": "none", "protection": ["pressure-edge"], "lock": "none",
                      "seal_n_per_m": 5},
        "plain-900": {"hinge": "top-hung", "opens": "outward", "width_mm": 900, "height_mm": 1000,
                      "sash_mass_kg": 26, "stays": "none", "protection": ["pressure-edge"], "lock": "none",
                      "seal_n_per_m": 5},
    },
    "actuators": {
        "chain-24-350": {"kind": "chain", "stroke_max_mm": 350, "thrust_n": 250, "hold_n": 300,
                         "speed_mm_s": TRAVEL_MM_S, "voltage_v": 24, "voltage_min_v": 20.4, "running_a": 0.7,
                         "peak_a": 0.9, "idle_a": 0.02, "bus_unit_load": 0.25, "along_hinge_max_mm": 1000,
                         "hinge_to_edge_min_mm": 450, "sync": "wire"},
    },
    "controllers": {
        "hall-controller": {
            "limits": {"actuators": PER_CONTROLLER, "groups": 16, "actuators_per_group": 10,
                       "rain_sensors": 5, "groups_per_sensor": 16},
            "moves_at_once": MOVES_AT_ONCE,
            "saved_copy_keeps": ["groups"],
            "bus": {"unit_loads": 32, "length_m": 1200, "stub_m": 1.5, "bit_rate": 19200},
            "bus_end_resistor": "switch", "bus_unit_load": 1, "idle_a": 0.15, "output_a": 20,
        },
    },
    "sensors": {
        "rain-plate": {"measures": "rain", "connects": "bus", "if_lost": "wet", "responds_s": RESPONDS_S,
                       "running_a": 0.05, "bus_unit_load": 0.25},
    },
    "supplies": {"psu-24-20": {"output_v": 24, "output_a": 20, "fuse_a": 16}},
    "cables": {
        "feed-2x4": {"conductor_mm2": 4, "conductor_class": 5, "conductor_c": 40, "current_max_a": 24},
        "drive-2x2.5-pair": {"conductor_mm2": 2.5, "conductor_class": 5, "conductor_c": 40,
                             "current_max_a": 18},
    },
}  # fmt: skip


def site_text(actuators: int, *, seed: int = 0, state: str = "as-designed", faults: int = 0) -> str:
    """Write a site that passes every check, but for the faults asked for.

    Parameters
    ----------
    actuators
        How many.
    seed
        Sites of one seed are the same to the byte.
    state
        ``as-designed`` or ``as-commissioned`` (with a record and nothing changed).
    faults
        How many faults to plant, spread over the controllers; see `plant`.
    """
    data = site_data(actuators, seed=seed, state=state)
    plant(data, faults)
    return as_yaml(data)


def commissioned_text(actuators: int, *, seed: int = 0, changes: int = 6) -> str:
    """Write the same site as it was found: recorded, with some changes of the sorts that `change` makes."""
    data = site_data(actuators, seed=seed, state="as-commissioned")
    change(data, changes)
    return as_yaml(data)


def site_data(
    actuators: int,
    *,
    seed: int = 0,
    state: str = "as-designed",
    per_controller: int = PER_CONTROLLER,
    per_group: int = PER_GROUP,
) -> Data:
    """Give the site as the plain data a reader of its text would give; blocks and groups may be smaller."""
    chance = random.Random(seed)
    data: Data = {
        "format": "zonecfg-site/1",
        "state": state,
        "site": {
            "name": "Larkenby Hall",
            "reference": f"LKH-{actuators}",
            "date": "2026-05-14" if state == "as-commissioned" else "2026-03-09",
            "wind_m_s": 12,
            "rules": {"falls": "NCC-2022-D3D29", "ventilation": "NCC-2022-HP-10.6.2"},
        },
        "types": json.loads(json.dumps(_TYPES)),
    }
    sections = ("rooms", "openings", "controllers", "supplies", "actuators", "groups", "sensors", "links",
                "wet_weather", "cables")  # fmt: skip
    data |= {section: {} for section in sections}
    data["terminators"] = []
    for number, first in enumerate(range(0, actuators, per_controller), start=1):
        _block(data, number, min(per_controller, actuators - first), chance, per_group)
    if state == "as-commissioned":
        record(data)
    return data


def _block(data: Data, number: int, count: int, chance: random.Random, per_group: int) -> None:
    """Add one controller and all that hangs on it."""
    controller, supply, facade = f"C-{number}", f"PS-{number}", chance.choice((0, 90, 180, 270))
    groups: dict[str, list[str]] = {}
    for index, first in enumerate(range(0, count, per_group), start=1):
        size = min(per_group, count - first)
        groups[f"G-{number}-{index}"] = _group(data, chance, number=number, index=index, size=size, facade=facade)
    plant_room = next(iter(groups)).replace("G-", "room-")
    data["controllers"][controller] = {"type": "hall-controller", "room": plant_room, "panel_locked": True}
    data["supplies"][supply] = {"type": "psu-24-20", "room": plant_room}
    for sensor in (f"R-{number}-1", f"R-{number}-2"):
        data["sensors"][sensor] = {
            "type": "rain-plate",
            "facade_deg": facade,
            "serial": f"{51_000_000 + len(data['sensors']) * 7:08}",
        }
        data["links"][sensor] = list(groups)
    _cables(data, number, list(groups.values()), chance)
    data["terminators"] += [controller, f"R-{number}-2"]


def _group(data: Data, chance: random.Random, *, number: int, index: int, size: int, facade: int) -> list[str]:
    """Add a group in a room of its own, and give its actuators."""
    group, room, pairs = f"G-{number}-{index}", f"room-{number}-{index}", index % 2 == 1
    storey = (number + index) % 4
    bedroom = not pairs and chance.random() < 0.5
    stroke = 120 if bedroom else chance.choice((200, 240, 280, 300))
    members: list[str] = []
    area_m2 = 0.0
    while len(members) < size:
        wide = pairs and size - len(members) > 1
        opening = f"W-{number}-{index}-{len(members) + 1}"
        data["openings"][opening] = {
            "type": "wide-1200" if wide else "plain-900",
            "room": room,
            "facade_deg": facade,
            "sill_mm": 900,
            "drop_mm": 300 + 3200 * storey,
        }
        area_m2 += 1.08 if wide else 0.9
        for _ in range(2 if wide else 1):
            actuator = f"A-{number}-{index}-{len(members) + 1}"
            data["actuators"][actuator] = {
                "type": "chain-24-350",
                "opening": opening,
                "stroke_mm": stroke,
                "serial": f"{70_000_000 + len(data['actuators']) * 7:08}",
            }
            members.append(actuator)
    data["rooms"][room] = {
        "name": f"Room {number}.{index}",
        "storey": storey,
        "use": "bedroom" if bedroom else chance.choice(("office", "teaching", "assembly")),
        "floor_area_m2": round(area_m2 * 20 * chance.uniform(0.5, 0.95), 1),
    }
    if bedroom:  # doors to a balcony: what the fall rule leaves of the windows frees too little air
        data["rooms"][room]["other_openings_m2"] = round(area_m2, 1)
    data["groups"][group] = {
        "name": f"Room {number}.{index}",
        "controller": f"C-{number}",
        "actuators": members,
    }
    returns = storey > 0 and chance.random() < 0.5
    data["wet_weather"][group] = {
        "open_percent": chance.choice((0, 10)),
        "when_dry": "return" if returns else "stay",
    }
    if returns:
        data["wet_weather"][group]["dry_minutes"] = chance.choice((10, 15, 30))
    return members


def _cables(data: Data, number: int, groups: list[list[str]], chance: random.Random) -> None:
    """Add a branch of power a group, and the bus through all of them."""
    runs: list[tuple[str, str, str, float, list[str]]] = [
        (f"PS-{number}", f"C-{number}", "drive-2x2.5-pair", 2, ["power"])
    ]
    before = f"C-{number}"
    for members in groups:
        runs.append((f"PS-{number}", members[0], "feed-2x4", chance.randint(6, 16), ["power"]))
        runs.append((before, members[0], "drive-2x2.5-pair", chance.randint(3, 12), ["bus"]))
        for one, other in pairwise(members):
            same = data["actuators"][one]["opening"] == data["actuators"][other]["opening"]
            carries = ["power", "bus", "sync"] if same else ["power", "bus"]
            runs.append((one, other, "drive-2x2.5-pair", 1 if same else 2, carries))
        before = members[-1]
    for sensor in (f"R-{number}-1", f"R-{number}-2"):
        runs.append((before, sensor, "drive-2x2.5-pair", 3, ["power", "bus"]))
        before = sensor
    for index, (one, other, kind, length, carries) in enumerate(runs, start=1):
        data["cables"][f"K-{number}-{index}"] = {
            "from": one, "to": other, "length_m": length, "type": kind, "carries": carries,
        }  # fmt: skip


SIGNED = {"date": "2026-05-14", "by": "installer"}


def record(data: Data) -> None:
    """Fill the record: everything tested, passed, and as computed."""
    counted: dict[str, int] = {}
    for group in data["groups"].values():
        counted[group["controller"]] = counted.get(group["controller"], 0) + len(group["actuators"])
    data["record"] = {
        "controllers": {controller: {"actuators_counted": count, **SIGNED} for controller, count in counted.items()},
        "actuators": {
            actuator: {
                "serial": fields["serial"],
                "calibrated": True,
                "walk_test": "pass",
                "voltage_moving_v": 22.9,
                **SIGNED,
            }
            for actuator, fields in data["actuators"].items()
        },
        "groups": {group: {"walk_test": "pass", **SIGNED} for group in data["groups"]},
        "sensors": {
            sensor: {"wet_test": "pass", "settled_after_s": settled_s(data, groups), **SIGNED}
            for sensor, groups in data["links"].items()
        },
        "buses": {controller: {"bus_ohm": 61, **SIGNED} for controller in counted},
    }


def settled_s(data: Data, groups: list[str]) -> int:
    """Give the time from wet to the last sash at rest, a few at a time in the order of the groups."""
    free = [0.0] * MOVES_AT_ONCE
    for group in groups:
        percent = data["wet_weather"][group]["open_percent"]
        sashes = {data["actuators"][a]["opening"]: data["actuators"][a] for a in data["groups"][group]["actuators"]}
        for sash in sashes.values():
            travel_s = sash["stroke_mm"] * (1 - percent / 100) / TRAVEL_MM_S
            heapq.heappush(free, heapq.heappop(free) + travel_s)
    return round(max(free) + RESPONDS_S)


def plant(data: Data, faults: int) -> None:
    """Plant faults, one a controller in turn.

    In turn: an actuator in a second group, a link without its wet action, a terminator that is missing, a
    serial that is on two labels, and, where the block has pairs, a pair set to two strokes.
    """
    controllers = list(data["controllers"])
    for fault in range(faults):
        number = controllers[fault % len(controllers)].removeprefix("C-")
        groups = [group for group in data["groups"] if group.startswith(f"G-{number}-")]
        members = data["groups"][groups[0]]["actuators"]
        kind = (fault + fault // len(controllers)) % 5
        if kind == 0 and len(groups) > 1:
            data["groups"][groups[-1]]["actuators"].append(members[0])
        elif kind == 1:
            data["wet_weather"].pop(groups[-1], None)
        elif kind == 2 and f"R-{number}-2" in data["terminators"]:
            data["terminators"].remove(f"R-{number}-2")
        elif kind == 3 and len(members) > 1:
            data["actuators"][members[0]]["serial"] = data["actuators"][members[-1]]["serial"]
        else:
            data["actuators"][members[0]]["stroke_mm"] = 150


def change(data: Data, changes: int) -> None:
    """Change a commissioned site as time does, one controller after the other.

    In turn: two serials change places, a serial is replaced, an actuator is regrouped, a stroke is shortened,
    a link is lost, and a wet action opens further.
    """
    controllers = list(data["controllers"])
    for turn in range(changes):
        number = controllers[turn % len(controllers)].removeprefix("C-")
        groups = [group for group in data["groups"] if group.startswith(f"G-{number}-")]
        members = data["groups"][groups[1 if len(groups) > 1 else 0]]["actuators"]
        fields = data["actuators"]
        kind = turn % 6
        if kind == 0 and len(members) > 1:
            one, other = fields[members[0]], fields[members[-1]]
            one["serial"], other["serial"] = other["serial"], one["serial"]
        elif kind == 2 and len(groups) > 1 and len(members) > 1:
            data["groups"][groups[0]]["actuators"].append(members.pop())
        elif kind == 3:
            for actuator in members:
                fields[actuator]["stroke_mm"] -= 20
        elif kind == 4 and len(groups) > 1:
            data["links"][f"R-{number}-2"].pop()
        elif kind == 5:
            data["wet_weather"][groups[0]]["open_percent"] = 20
        else:
            fields[members[0]]["serial"] = f"{79_000_000 + turn:08}"


_BLOCK_SECTIONS = {"groups", "links", "terminators", "catalogue", "accepted"}


def as_yaml(data: Data) -> str:
    """Write plain data as people write a plan: a thing a line, members one a line."""
    lines: list[str] = []
    for key, value in data.items():
        if isinstance(value, dict):
            lines.append(f"\n{key}:" if value else f"\n{key}: {{}}")
            _block_map(
                lines,
                value,
                "  ",
                deep=2 if key in {"types", "record"} else 1,
                members=key in _BLOCK_SECTIONS,
            )
        elif isinstance(value, list) and value and key in _BLOCK_SECTIONS:
            lines.append(f"\n{key}:")
            lines += [f"  - {_flow(item)}" for item in value]
        else:
            lines.append(f"{key}: {_flow(value)}")
    return "\n".join(lines) + "\n"


def _block_map(lines: list[str], data: Data, indent: str, *, deep: int, members: bool) -> None:
    for key, value in data.items():
        name = _scalar(key)
        if isinstance(value, dict) and value and (members or deep > 1):
            lines.append(f"{indent}{name}:")
            _block_map(lines, value, indent + "  ", deep=deep - 1, members=members)
        elif isinstance(value, list) and value and members:
            lines.append(f"{indent}{name}:")
            lines += [f"{indent}  - {_flow(item)}" for item in value]
        else:
            lines.append(f"{indent}{name}: {_flow(value)}")


def _flow(value: object) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join([f"{_scalar(key)}: {_flow(item)}" for key, item in value.items()]) + "}"
    if isinstance(value, list):
        return "[" + ", ".join([_flow(item) for item in value]) + "]"
    return _scalar(value)


def _scalar(value: object) -> str:
    if isinstance(value, str) and (_PLAIN.match(value) or _DATE.match(value)):
        return value
    return json.dumps(value, ensure_ascii=False)
