"""Faults of what a plan states of fire, storms, escape, reach and ratings: figures of the format, of standards and of hand."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from clean_sites import sash
from plans import fields
from planting import (
    NOTHING,
    Planted,
    each,
    in_wall,
    just_avoids,
    links_of,
    moved,
    neighbours,
    one,
    peak_a,
    pick,
    plants,
    reached,
    set_strokes,
    singles,
    supply_of,
)
from windows import child_window, falls_rule, needs, single_window

if TYPE_CHECKING:
    import random

Data = dict[str, Any]


# Falls


def _freed(data: Data, chance: random.Random, *, child_resistant: bool) -> Planted:
    needs(falls_rule(data) in ("IRC-R312.2", "BS-8213-1"))
    opening = child_window(data, chance)
    own = data["openings"][opening]
    needs(not own.get("escape"))
    own |= {
        "screen": "none",
        "limit_by": "actuator",
        "hand_release": "hand",
        "child_resistant_release": child_resistant,
    }
    set_strokes(data, opening, 90)
    by_angle = {"opening-angle-not-counted", "room-opening-area-small", "fall-limit-starves-room", "closing-time-off"}
    return one(f"openings/{opening}", also=by_angle)


@plants("hand-release-defeats-limit")
def freed_by_a_child(data: Data, chance: random.Random) -> Planted:
    return _freed(data, chance, child_resistant=False)


@just_avoids("hand-release-defeats-limit")
def freed_by_no_child(data: Data, chance: random.Random) -> Planted:
    return Planted((), _freed(data, chance, child_resistant=True).also)


def _step(data: Data, chance: random.Random, height_mm: float) -> str:
    """NCC: nothing to climb on from 150 to 760 mm, in other rooms from 4 m up."""
    needs(falls_rule(data) == "NCC-2022-D3D29")
    rooms = data["rooms"]
    high = [
        o
        for o, own in data["openings"].items()
        if own["drop_mm"] >= 4000
        and own["sill_mm"] < 1700
        and rooms[own["room"]]["use"] not in ("bedroom", "childcare")
    ]
    opening = pick(chance, high)
    data["openings"][opening]["foothold_mm"] = height_mm
    return opening


@plants("foothold-before-window")
def something_to_climb_on(data: Data, chance: random.Random) -> Planted:
    return one(f"openings/{_step(data, chance, chance.choice([150, 400, 760]))}")


@just_avoids("foothold-before-window")
def nothing_to_climb_on(data: Data, chance: random.Random) -> Planted:
    _step(data, chance, chance.choice([149, 761]))
    return NOTHING


def _measured(data: Data, chance: random.Random, over: float) -> Planted:
    """A tenth of a millimetre beyond 10 mm or a twentieth, or short of it; shorter than set, so that nobody falls."""
    actuator = pick(chance, singles(data))
    stroke = data["actuators"][actuator]["stroke_mm"]
    data["record"]["actuators"][actuator]["measured_stroke_mm"] = stroke - max(10, stroke / 20) - over
    return one(f"actuators/{actuator}", f"record/actuators/{actuator}")


@plants("measurement-contradicts-plan", state="as-commissioned")
def measured_otherwise(data: Data, chance: random.Random) -> Planted:
    return _measured(data, chance, 0.1)


@just_avoids("measurement-contradicts-plan", state="as-commissioned")
def measured_alike(data: Data, chance: random.Random) -> Planted:
    _measured(data, chance, -0.1)
    return NOTHING


# Escape


@plants("guard-before-escape")
def barred(data: Data, chance: random.Random) -> Planted:
    opening = pick(chance, (o for o, own in data["openings"].items() if own.get("escape")))
    data["openings"][opening] |= {"screen": "guard", "screen_opens": False}
    return one(f"openings/{opening}")


@just_avoids("guard-before-escape")
def not_barred(data: Data, chance: random.Random) -> Planted:
    barred(data, chance)
    for own in data["openings"].values():
        if own.get("escape"):
            own["screen_opens"] = True
    return NOTHING


# Smoke and fire


def _vent(data: Data, chance: random.Random) -> str:
    return pick(chance, (o for o, own in data["openings"].items() if own.get("smoke_vent") and moved(data, o)))


def _alone(data: Data, opening: str) -> None:
    """Leave one vent only, so that nothing queues."""
    for name, own in data["openings"].items():
        if name != opening and own.pop("smoke_vent", None):
            own.pop("smoke_stroke_mm", None)
            own.pop("fire_stroke_mm", None)


def _pace(data: Data, chance: random.Random, seconds: float) -> Planted:
    """EN 12101-2 (from memory): 60 s to the smoke stroke."""
    opening = _vent(data, chance)
    _alone(data, opening)
    speed = data["openings"][opening]["smoke_stroke_mm"] / seconds
    for actuator in moved(data, opening):
        data["actuators"][actuator]["speed_fire_mm_s"] = speed
    return one(f"openings/{opening}", also={"fire-test-missing"})


@plants("smoke-vent-slow")
def slow(data: Data, chance: random.Random) -> Planted:
    return _pace(data, chance, 60.5)


@just_avoids("smoke-vent-slow")
def fast_enough(data: Data, chance: random.Random) -> Planted:
    return Planted((), _pace(data, chance, 59.5).also)


@plants("smoke-stroke-not-reached")
def set_short_of_the_smoke_stroke(data: Data, chance: random.Random) -> Planted:
    opening = _vent(data, chance)
    own = data["openings"][opening]
    own.pop("fire_stroke_mm", None)
    own["smoke_stroke_mm"] = data["actuators"][moved(data, opening)[0]]["stroke_mm"] + 0.5
    needs(own["smoke_stroke_mm"] <= 350)
    return one(f"openings/{opening}", [f"actuators/{a}" for a in moved(data, opening)])


@plants("smoke-stroke-not-reached")
def opened_short_of_the_smoke_stroke(data: Data, chance: random.Random) -> Planted:
    opening = _vent(data, chance)
    own = data["openings"][opening]
    own["fire_stroke_mm"] = own["smoke_stroke_mm"] - 0.5
    return one(f"openings/{opening}")


@just_avoids("smoke-stroke-not-reached")
def opened_to_the_smoke_stroke(data: Data, chance: random.Random) -> Planted:
    own = data["openings"][_vent(data, chance)]
    own["fire_stroke_mm"] = own["smoke_stroke_mm"]
    return NOTHING


def _battery(data: Data, chance: random.Random, part: float) -> Planted:
    """EN 12101-10 (as quoted elsewhere): rest for 72 h, then 180 s of all that moves at once."""
    opening = _vent(data, chance)
    supply = supply_of(data, moved(data, opening)[0])
    things = reached(data, "power", supply)[0]
    names = {"actuators": "idle_a", "controllers": "idle_a", "sensors": "running_a"}
    rest = sum(fields(data, s, t)[amps] for s, amps in names.items() for t in things if t in data[s])
    needed = rest * 72 + peak_a(data, things) * 180 / 3600
    data["supplies"][supply] |= {"battery_ah": round(needed * part, 4), "standby_h": 72}
    return one(f"supplies/{supply}")


@plants("battery-too-small")
def small_battery(data: Data, chance: random.Random) -> Planted:
    return _battery(data, chance, 0.99)


@just_avoids("battery-too-small")
def battery_large_enough(data: Data, chance: random.Random) -> Planted:
    _battery(data, chance, 1.01)
    return NOTHING


@plants("cable-not-fire-rated")
def burns_through(data: Data, chance: random.Random) -> Planted:
    actuator = moved(data, _vent(data, chance))[0]
    cable = pick(chance, (c for c, _ in neighbours(data, "power")[actuator]))
    supply = supply_of(data, actuator)
    needs(actuator not in reached(data, "power", supply, without=cable)[0])
    data["cables"][cable]["fire_minutes"] = 0
    return one(f"cables/{cable}")


def _snow(data: Data, chance: random.Random, part: float) -> Planted:
    """EN 1991-1-3 (from memory): 0.8 to 30° of pitch on the horizontal projection, as weight; lifted from closed."""
    opening = _vent(data, chance)
    _alone(data, opening)
    data["site"]["snow_kpa"] = 2.0
    kind = {**data["types"]["openings"][data["openings"][opening]["type"]], "pitch_deg": 5}
    name = "vent-in-snow"
    data["types"]["openings"][name] = kind
    own = data["openings"][opening]
    own["type"] = name
    own["sheltered"] = True
    area = kind["width_mm"] * kind["height_mm"] / 1e6
    weight = kind["sash_mass_kg"] * 9.81 + 0.8 * 2000 * area * math.cos(math.radians(5))
    pressure = 0.5 * 1.225 * data["site"]["wind_m_s"] ** 2
    seal = kind["seal_n_per_m"] * (kind["width_mm"] + kind["height_mm"]) / 1000
    closed = weight / 2 * math.cos(math.radians(5)) + pressure * area / 2 + seal
    for actuator in moved(data, opening):
        data["actuators"][actuator]["thrust_n"] = closed / len(moved(data, opening)) * part
    at = [f"openings/{opening}", *(f"actuators/{a}" for a in moved(data, opening))]
    return one(f"openings/{opening}", at, {"fire-test-missing", "thrust-margin-small", "left-open-in-rain"})


@plants("thrust-too-small-in-snow")
def snowed_in(data: Data, chance: random.Random) -> Planted:
    return _snow(data, chance, 0.98)


# Storms, wind and heads


def _storm(data: Data, chance: random.Random, part: float) -> Planted:
    """Suction of a storm at the edge of the sash: half of what presses on it; all other sashes are locked."""
    opening = single_window(data, chance)
    needs(sash(data, opening)["hinge"] == "top-hung")
    for own in data["openings"].values():
        own["lock"] = "motor"
    data["openings"][opening]["lock"] = "none"
    data["site"] |= {"storm_wind_m_s": 40, "storm_suction": 1.2}
    kind = sash(data, opening)
    force = 1.2 * 0.5 * 1.225 * 40**2 * kind["width_mm"] * kind["height_mm"] / 1e6 / 2
    for actuator in moved(data, opening):
        data["actuators"][actuator]["hold_n"] = force / len(moved(data, opening)) * part
    return one(f"openings/{opening}", also={"escape-window-restricted", "restrictor-strength-unknown"})


@plants("sash-loose-in-storm")
def loose(data: Data, chance: random.Random) -> Planted:
    return _storm(data, chance, 0.99)


@just_avoids("sash-loose-in-storm")
def held(data: Data, chance: random.Random) -> Planted:
    return Planted((), _storm(data, chance, 1.01).also)


def _cups(data: Data, chance: random.Random, over: float) -> Planted:
    sensor = pick(chance, links_of(data, "wind"))
    data["sensors"][sensor]["wind_above_m_s"] = data["site"]["wind_m_s"] + over
    return one(f"sensors/{sensor}")


@plants("wind-limit-over-force")
def waits_too_long(data: Data, chance: random.Random) -> Planted:
    return _cups(data, chance, 0.1)


@just_avoids("wind-limit-over-force")
def waits_no_longer(data: Data, chance: random.Random) -> Planted:
    _cups(data, chance, 0.0)
    return NOTHING


def _below(data: Data, chance: random.Random, height_mm: float) -> Planted:
    """Approved Document K, K5.1 (from memory): under 2 m no more than 100 mm into a walkway."""
    opening = single_window(data, chance)
    own = data["openings"][opening]
    needs(sash(data, opening)["opens"] == "outward" and own["sill_mm"] == 900 and in_wall(data, opening))
    own |= {"over_walkway": True, "drop_mm": height_mm - 900}
    return one(f"openings/{opening}", also={"wet-return-unattended"})


@plants("open-sash-over-walkway")
def in_the_way(data: Data, chance: random.Random) -> Planted:
    return _below(data, chance, 1999)


@just_avoids("open-sash-over-walkway")
def over_heads(data: Data, chance: random.Random) -> Planted:
    return Planted((), _below(data, chance, 2000).also)


# Ratings


def _charged(data: Data, chance: random.Random, volts: float) -> Planted:
    supply = pick(chance, data["supplies"])
    actuators = [t for t in reached(data, "power", supply)[0] if t in data["actuators"]]
    needs(bool(actuators))
    for actuator in actuators:
        data["actuators"][actuator]["voltage_max_v"] = 28.8
    data["supplies"][supply]["output_max_v"] = volts
    return each(f"actuators/{a}" for a in actuators)


@plants("voltage-over-rating")
def charged_too_high(data: Data, chance: random.Random) -> Planted:
    return _charged(data, chance, 28.9)


@just_avoids("voltage-over-rating")
def charged_as_high_as_it_bears(data: Data, chance: random.Random) -> Planted:
    _charged(data, chance, 28.8)
    return NOTHING


def _fuse(data: Data, chance: random.Random, part: float) -> Planted:
    supply = pick(chance, data["supplies"])
    things = reached(data, "power", supply)[0]
    needs(any(t in data["actuators"] for t in things))
    data["supplies"][supply]["fuse_a"] = round(peak_a(data, things) * part, 4)
    return one(f"supplies/{supply}")


@plants("fuse-under-load")
def blows_in_the_rain(data: Data, chance: random.Random) -> Planted:
    return _fuse(data, chance, 0.99)


@just_avoids("fuse-under-load")
def lets_the_load_through(data: Data, chance: random.Random) -> Planted:
    _fuse(data, chance, 1.01)
    return NOTHING


@plants("output-contradicts")
def more_at_full_load(data: Data, chance: random.Random) -> Planted:
    supply = pick(chance, data["supplies"])
    data["supplies"][supply]["output_min_v"] = fields(data, "supplies", supply)["output_v"] + 0.1
    return one(f"supplies/{supply}")


@plants("controller-contradicts-cables")
def said_to_be_elsewhere(data: Data, chance: random.Random) -> Planted:
    needs(len(data["controllers"]) > 1)
    actuator = pick(chance, data["actuators"])
    controllers = [c for c in data["controllers"] if c not in reached(data, "bus", actuator)[0]]
    data["actuators"][actuator]["controller"] = pick(chance, controllers)
    also = {"group-spans-controllers", "count-mismatch", "too-many-actuators", "smoke-vent-overruled"}
    return one(f"actuators/{actuator}", also=also)


@plants("implausible-figure")
def metres(data: Data, chance: random.Random) -> Planted:
    room = pick(chance, data["rooms"])
    data["rooms"][room]["floor_area_m2"] = 90_000  # square millimetres, or half of them
    return one(f"rooms/{room}", also={"room-opening-area-small", "fall-limit-starves-room"})


@plants("implausible-figure")
def kilometres_of_cable(data: Data, chance: random.Random) -> Planted:
    cable = pick(chance, data["cables"])
    data["cables"][cable]["length_m"] = 0.05
    return one(f"cables/{cable}", also={"bus-resistance-off", "stub-too-long", "bus-branches", "terminator-missing"})


# What many faults have in common


@plants("one-cause")
def a_digit_lost_in_a_type(data: Data, chance: random.Random) -> Planted:
    """Every actuator of a type gets a longer stroke than the type has; another type stays what it is."""
    kind = pick(chance, _of_three_or_more(data))
    data["types"]["actuators"][kind]["stroke_max_mm"] = min(_strokes(data, kind)) - 1
    return one(
        f"types/actuators/{kind}",
        also={"stroke-over-type", "smoke-vent-unproven"},
    )


@just_avoids("one-cause")
def each_says_so_itself(data: Data, chance: random.Random) -> Planted:
    """Three actuators state a shorter stroke of their own than they are set to: the type has no part in it."""
    kind = pick(chance, _of_three_or_more(data))
    for actuator in [own for own in data["actuators"].values() if own.get("type") == kind][:3]:
        actuator["stroke_max_mm"] = actuator["stroke_mm"] - 1
    return replace(NOTHING, also=frozenset({"stroke-over-type", "smoke-vent-unproven"}))


def _of_three_or_more(data: Data) -> list[str]:
    counts = Counter(own["type"] for own in data["actuators"].values() if "type" in own)
    return sorted(kind for kind, count in counts.items() if count > 2 and len(counts) > 1)


def _strokes(data: Data, kind: str) -> list[float]:
    return [own["stroke_mm"] for own in data["actuators"].values() if own.get("type") == kind]


# The team's own rules


@plants("house-rule")
def a_rule_that_is_not_there(data: Data, chance: random.Random) -> Planted:
    data["house"] = [f"rules-{chance.randint(1, 9)}.json"]
    return one(f"house/{data['house'][0]}", "house")
