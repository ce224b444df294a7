"""Faults of sashes, and of the actuators that move them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from clean_sites import sash
from planting import (
    NOTHING,
    Planted,
    each,
    in_wall,
    just_avoids,
    moved,
    one,
    pick,
    plants,
    set_strokes,
)
from windows import needs, single_window

if TYPE_CHECKING:
    import random

Data = dict[str, Any]


# Common practice; the types here state 1000 mm along the hinge and 450 mm from hinge to edge


@plants("sash-needs-more-actuators")
def too_long_for_one(data: Data, chance: random.Random, width_mm: float = 1010) -> Planted:
    opening = single_window(data, chance)
    data["openings"][opening]["width_mm"] = width_mm
    return one(f"openings/{opening}")


@just_avoids("sash-needs-more-actuators")
def just_short_enough(data: Data, chance: random.Random) -> Planted:
    too_long_for_one(data, chance, chance.choice([990, 1000]))
    return NOTHING


@plants("sash-needs-more-actuators")
def too_long_by_common_practice(data: Data, chance: random.Random, width_mm: float = 905) -> Planted:
    """Where the type says nothing, one actuator serves 900 mm."""
    opening = single_window(data, chance)
    data["openings"][opening]["width_mm"] = width_mm
    for actuator in moved(data, opening):
        own = data["actuators"][actuator]
        kind = data["types"]["actuators"][own["type"]]
        own["type"] = "chain-unsaid"
        data["types"]["actuators"]["chain-unsaid"] = {k: v for k, v in kind.items() if k != "along_hinge_max_mm"}
    return one(f"openings/{opening}")


@just_avoids("sash-needs-more-actuators")
def short_enough_by_common_practice(data: Data, chance: random.Random) -> Planted:
    too_long_by_common_practice(data, chance, 900)
    return NOTHING


@plants("sash-needs-pivot-brackets")
def too_short_without_brackets(data: Data, chance: random.Random, height_mm: float = 440) -> Planted:
    opening = single_window(data, chance)
    room = data["rooms"][data["openings"][opening]["room"]]
    room["other_openings_m2"] = room.get("other_openings_m2", 0) + 1.0
    data["openings"][opening]["height_mm"] = height_mm
    return one(f"openings/{opening}")


@just_avoids("sash-needs-pivot-brackets")
def just_long_enough(data: Data, chance: random.Random) -> Planted:
    too_short_without_brackets(data, chance, chance.choice([450, 460]))
    return NOTHING


@plants("friction-stay-fitted")
def braked(data: Data, chance: random.Random) -> Planted:
    opening = single_window(data, chance)
    data["openings"][opening] |= {"stays": "friction"} | ({"friction_n": 30} if chance.random() < 0.5 else {})
    return one(f"openings/{opening}")


@plants("hand-lock-fitted")
def locked_by_hand(data: Data, chance: random.Random) -> Planted:
    opening = pick(chance, data["openings"])
    data["openings"][opening]["lock"] = "hand"
    return one(f"openings/{opening}")


@just_avoids("hand-lock-fitted")
def locked_by_a_motor(data: Data, chance: random.Random) -> Planted:
    windows = [o for o, own in data["openings"].items() if not own.get("escape")]  # out of which nobody has to go
    data["openings"][pick(chance, windows)]["lock"] = "motor"
    return NOTHING


@plants("stroke-over-type")
def longer_than_the_chain(data: Data, chance: random.Random, stroke_mm: float = 352) -> Planted:
    actuators = set_strokes(data, single_window(data, chance), stroke_mm)
    return each((f"actuators/{a}" for a in actuators), also={"closing-time-off"})


@just_avoids("stroke-over-type")
def the_whole_chain(data: Data, chance: random.Random) -> Planted:
    longer_than_the_chain(data, chance, 350)
    return Planted((), frozenset({"closing-time-off"}))


def _open_to(data: Data, chance: random.Random, times_r: float) -> Planted:
    """Set a stroke in terms of the lever; the actuator is long and strong enough."""
    opening = single_window(data, chance)
    stroke_mm = times_r * sash(data, opening)["height_mm"]
    actuators = set_strokes(data, opening, stroke_mm, stroke_max_mm=2500, thrust_n=9000)
    at = [f"openings/{opening}", *(f"actuators/{a}" for a in actuators)]
    return one(f"openings/{opening}", at, {"closing-time-off", "implausible-figure"})


@plants("stroke-over-sash")
def past_a_right_angle(data: Data, chance: random.Random) -> Planted:
    """The chord of 90° is the square root of two times the lever; twice the lever is the longest chord there is."""
    return _open_to(data, chance, chance.choice([1.42, 1.9, 2.05]))


@just_avoids("stroke-over-sash")
def below_a_right_angle(data: Data, chance: random.Random) -> Planted:
    return Planted((), _open_to(data, chance, 1.40).also)


# Force along the chain: weight m·g·w/(2L) in a wall, wind p·B·L/(2·cos(a/2)), p = ½·1.225·v² (published facts)


def _strength(data: Data, chance: random.Random, part: float) -> tuple[str, list[str]]:
    """Give the actuators of a wall sash the force it needs, divided by a part of it."""
    wide = [
        o
        for o, own in data["openings"].items()
        if in_wall(data, o) and data["actuators"][moved(data, o)[0]]["stroke_mm"] >= 240 and not own.get("smoke_vent")
    ]
    opening = pick(chance, wide)
    kind, actuators = sash(data, opening), moved(data, opening)
    stroke_m = data["actuators"][actuators[0]]["stroke_mm"] / 1000
    length_m, width_m = kind["height_mm"] / 1000, kind["width_mm"] / 1000
    pressure_pa = 0.5 * 1.225 * data["site"]["wind_m_s"] ** 2
    weight_n = kind["sash_mass_kg"] * 9.81 * stroke_m / (2 * length_m)
    wind_n = pressure_pa * width_m * length_m / (2 * math.cos(math.asin(stroke_m / (2 * length_m))))
    seal_n = kind["seal_n_per_m"] * (width_m + length_m)  # its moments about the hinge, over the sash
    open_n = weight_n + wind_n
    # With the seal the sash has at most 5 mm of weight: the far end of the travel must be the harder one.
    needs(open_n > 1.05 * (seal_n + wind_n))
    for actuator in actuators:
        data["actuators"][actuator]["thrust_n"] = round(open_n / len(actuators) / part, 3)
    return opening, actuators


def _too_weak(data: Data, chance: random.Random, part: float) -> Planted:
    opening, actuators = _strength(data, chance, part)
    return one(f"openings/{opening}", [f"openings/{opening}", *(f"actuators/{a}" for a in actuators)])


@plants("thrust-too-small")
def too_weak(data: Data, chance: random.Random) -> Planted:
    return _too_weak(data, chance, chance.choice([1.01, 1.5]))


@just_avoids("thrust-too-small")
def just_strong_enough(data: Data, chance: random.Random) -> Planted:
    _strength(data, chance, 0.99)
    return Planted((), frozenset({"thrust-margin-small"}))


@plants("thrust-margin-small")
def hardly_strong_enough(data: Data, chance: random.Random) -> Planted:
    return _too_weak(data, chance, chance.choice([0.81, 0.95]))


@just_avoids("thrust-margin-small")
def strong_enough(data: Data, chance: random.Random) -> Planted:
    _strength(data, chance, 0.79)
    return NOTHING
