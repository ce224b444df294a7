"""Faults of the air that windows let in."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from clean_sites import sash, sash_area_m2
from planting import (
    NOTHING,
    Planted,
    in_wall,
    just_avoids,
    one,
    pick,
    plants,
    set_strokes,
)
from windows import air_rule, child_window, falls_rule, needs

if TYPE_CHECKING:
    import random

Data = dict[str, Any]


def _free_area_m2(data: Data, opening: str, gap_m: float) -> float:
    """A_geo = B·gap + L²·sin a of a top-hung sash, with a = 2·asin(gap/2L)."""
    kind = sash(data, opening)
    length_m, width_m = kind["height_mm"] / 1000, kind["width_mm"] / 1000
    return float(width_m * gap_m + length_m**2 * math.sin(2 * math.asin(gap_m / (2 * length_m))))


def _starve(data: Data, chance: random.Random, gap_mm: float, part: float) -> str:
    """Leave a room the air it is asked for, or a part of it, when its windows open to a gap at most."""
    air = air_rule(data)
    needs(air != "ADF-2021-T1.4" and falls_rule(data) == "NCC-2022-D3D29")
    name = data["openings"][child_window(data, chance)]["room"]
    openings = [o for o, own in data["openings"].items() if own["room"] == name]
    needs(all(data["openings"][o]["sill_mm"] < 1700 and data["openings"][o]["drop_mm"] >= 2000 for o in openings))
    asked_m2 = data["rooms"][name]["floor_area_m2"] * (0.05 if air.startswith("NCC") else 0.04)
    free_m2 = sum(_free_area_m2(data, o, gap_mm / 1000) for o in openings)
    data["rooms"][name]["other_openings_m2"] = round(part * asked_m2 - free_m2, 4)
    needs(data["rooms"][name]["other_openings_m2"] >= 0)
    return str(name)


@plants("fall-limit-starves-room")
def starved(data: Data, chance: random.Random) -> Planted:
    return one(f"rooms/{_starve(data, chance, 125, chance.choice([0.99, 0.8]))}")


@just_avoids("fall-limit-starves-room")
def just_fed(data: Data, chance: random.Random) -> Planted:
    _starve(data, chance, 124, 1.01)
    return NOTHING


def _angle(data: Data, chance: random.Random, angle_deg: float) -> Planted:
    """Approved Document F gives a sash that opens less than 15° no area."""
    needs(air_rule(data) == "ADF-2021-T1.4")
    opening = pick(chance, (o for o in data["openings"] if in_wall(data, o)))
    room = data["rooms"][data["openings"][opening]["room"]]
    room["other_openings_m2"] = room["floor_area_m2"] / 10
    stroke_mm = 2 * sash(data, opening)["height_mm"] * math.sin(math.radians(angle_deg / 2))
    actuators = set_strokes(data, opening, round(stroke_mm, 2))
    return one(
        f"openings/{opening}", [f"openings/{opening}", *(f"actuators/{a}" for a in actuators)], {"closing-time-off"}
    )


@plants("opening-angle-not-counted")
def hardly_open(data: Data, chance: random.Random) -> Planted:
    return _angle(data, chance, chance.choice([14.9, 8]))


@just_avoids("opening-angle-not-counted")
def open_enough(data: Data, chance: random.Random) -> Planted:
    return Planted((), _angle(data, chance, 15.1).also)


def _floor(data: Data, chance: random.Random, part: float) -> str:
    """Make a room so large that its windows are a part of what is asked."""
    air = air_rule(data)
    rooms: dict[str, list[str]] = {}
    for opening, own in data["openings"].items():
        rooms.setdefault(own["room"], []).append(opening)
    # Where air counts by angle: sashes that open 15° to under 30°, of which 1/10 is asked
    by_angle = air == "ADF-2021-T1.4"
    plain = [
        name
        for name, openings in rooms.items()
        if data["rooms"][name]["use"] != "bedroom"
        and not (by_angle and any(sash(data, o)["hinge"] == "centre-pivot" for o in openings))
    ]
    name = pick(chance, plain)
    counted_m2 = sum(sash_area_m2(data, o) for o in rooms[name]) + data["rooms"][name].get("other_openings_m2", 0)
    fraction = {"NCC-2022-HP-10.6.2": 0.05, "IRC-R303.1": 0.04, "ADF-2021-T1.4": 0.1}[air]
    data["rooms"][name]["floor_area_m2"] = round(counted_m2 / fraction / part, 2)
    return name


@plants("room-opening-area-small")
def too_large_a_room(data: Data, chance: random.Random) -> Planted:
    return one(f"rooms/{_floor(data, chance, chance.choice([0.99, 0.5]))}", also={"fall-limit-starves-room"})


@just_avoids("room-opening-area-small")
def just_small_enough(data: Data, chance: random.Random) -> Planted:
    _floor(data, chance, 1.01)
    return Planted((), frozenset({"fall-limit-starves-room"}))
