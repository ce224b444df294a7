"""Faults of sashes, and of the air they let in."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from clean_sites import SPHERE_MM, actuators_of, sash, sash_area_m2
from planting import (
    NOTHING,
    CannotPlant,
    Planted,
    each,
    in_wall,
    just_avoids,
    moved,
    one,
    pick,
    plants,
    set_strokes,
    singles,
    supply_of,
    use_of,
)

if TYPE_CHECKING:
    import random

Data = dict[str, Any]


def _falls(data: Data) -> str:
    return str(data["site"]["rules"]["falls"])


def _air(data: Data) -> str:
    return str(data["site"]["rules"]["ventilation"])


def _needs(condition: bool) -> None:
    if not condition:
        raise CannotPlant


def _single(data: Data, chance: random.Random) -> str:
    """Choose a wall window with one actuator that nothing special is asked of."""
    openings = (data["actuators"][a]["opening"] for a in singles(data))
    plain = [o for o in openings if in_wall(data, o) and not {"escape", "smoke_vent"} & data["openings"][o].keys()]
    return pick(chance, (o for o in plain if use_of(data, o) != "bedroom"))


# Common practice; the types here state 1000 mm along the hinge and 450 mm from hinge to edge


@plants("sash-needs-more-actuators")
def too_long_for_one(data: Data, chance: random.Random, width_mm: float = 1010) -> Planted:
    opening = _single(data, chance)
    data["openings"][opening]["width_mm"] = width_mm
    return one(f"openings/{opening}")


@just_avoids("sash-needs-more-actuators")
def just_short_enough(data: Data, chance: random.Random) -> Planted:
    too_long_for_one(data, chance, chance.choice([990, 1000]))
    return NOTHING


@plants("sash-needs-more-actuators")
def too_long_by_common_practice(data: Data, chance: random.Random, width_mm: float = 905) -> Planted:
    """Where the type says nothing, one actuator serves 900 mm."""
    opening = _single(data, chance)
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
    opening = _single(data, chance)
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
    opening = _single(data, chance)
    data["openings"][opening] |= {"stays": "friction"} | ({"friction_n": 30} if chance.random() < 0.5 else {})
    return one(f"openings/{opening}")


@plants("hand-lock-fitted")
def locked_by_hand(data: Data, chance: random.Random) -> Planted:
    opening = pick(chance, data["openings"])
    data["openings"][opening]["lock"] = "hand"
    return one(f"openings/{opening}")


@just_avoids("hand-lock-fitted")
def locked_by_a_motor(data: Data, chance: random.Random) -> Planted:
    data["openings"][pick(chance, data["openings"])]["lock"] = "motor"
    return NOTHING


@plants("stroke-over-type")
def longer_than_the_chain(data: Data, chance: random.Random, stroke_mm: float = 352) -> Planted:
    actuators = set_strokes(data, _single(data, chance), stroke_mm)
    return each((f"actuators/{a}" for a in actuators), also={"closing-time-off"})


@just_avoids("stroke-over-type")
def the_whole_chain(data: Data, chance: random.Random) -> Planted:
    longer_than_the_chain(data, chance, 350)
    return Planted((), frozenset({"closing-time-off"}))


def _open_to(data: Data, chance: random.Random, times_r: float) -> Planted:
    """Set a stroke in terms of the lever; the actuator is long and strong enough."""
    opening = _single(data, chance)
    stroke_mm = times_r * sash(data, opening)["height_mm"]
    actuators = set_strokes(data, opening, stroke_mm, stroke_max_mm=2500, thrust_n=9000)
    at = [f"openings/{opening}", *(f"actuators/{a}" for a in actuators)]
    return one(f"openings/{opening}", at, {"closing-time-off"})


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
        o for o in data["openings"] if in_wall(data, o) and data["actuators"][moved(data, o)[0]]["stroke_mm"] >= 240
    ]
    opening = pick(chance, wide)
    kind, actuators = sash(data, opening), moved(data, opening)
    stroke_m = data["actuators"][actuators[0]]["stroke_mm"] / 1000
    length_m, width_m = kind["height_mm"] / 1000, kind["width_mm"] / 1000
    pressure_pa = 0.5 * 1.225 * data["site"]["wind_m_s"] ** 2
    weight_n = kind["sash_mass_kg"] * 9.81 * stroke_m / (2 * length_m)
    wind_n = pressure_pa * width_m * length_m / (2 * math.cos(math.asin(stroke_m / (2 * length_m))))
    seal_n = kind["seal_n_per_m"] * 2 * (width_m + length_m)
    open_n = weight_n + wind_n
    # With the seal the sash has at most 5 mm of weight: the far end of the travel must be the harder one.
    _needs(open_n > 1.05 * (seal_n + wind_n))
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


# Falls: the rules' own figures


def _asked_of_bedrooms(data: Data, chance: random.Random) -> str:
    """Choose a window that the rule lets nothing through of the size of its sphere."""
    falls = _falls(data)
    drops = {"NCC-2022-D3D29": 2000, "ADK-2013": 601, "IRC-R312.2": 1830, "BS-8213-1": 1}
    highest_sill = {"NCC-2022-D3D29": 1699, "IRC-R312.2": 609}.get(falls, 10_000)
    asked = (
        opening
        for opening, own in data["openings"].items()
        if own["drop_mm"] >= drops[falls]
        and own["sill_mm"] <= highest_sill
        and (use_of(data, opening) == "bedroom" or falls in ("BS-8213-1", "IRC-R312.2"))
    )
    return pick(chance, (o for o in asked if in_wall(data, o)))


def _open_for_a_child(data: Data, chance: random.Random, over_mm: float) -> Planted:
    """At the closing edge of a top-hung sash the gap is the stroke."""
    opening = _asked_of_bedrooms(data, chance)
    data["openings"][opening]["screen"] = chance.choice(["none", "insect"])
    actuators = set_strokes(data, opening, SPHERE_MM[_falls(data)] + over_mm)
    at = [f"openings/{opening}", *(f"actuators/{a}" for a in actuators)]
    return one(f"openings/{opening}", at, _of_less_stroke(data))


def _of_less_stroke(data: Data) -> frozenset[str]:
    """Where air counts by angle, a stroke of 100 mm counts nothing; and it closes sooner."""
    by_angle = {"opening-angle-not-counted", "room-opening-area-small"} if _air(data).startswith("ADF") else set()
    return frozenset(by_angle | {"closing-time-off", "fall-limit-starves-room"})


@plants("opening-over-fall-limit")
def a_child_fits_through(data: Data, chance: random.Random) -> Planted:
    return _open_for_a_child(data, chance, chance.choice([0, 0.5, 40]))


@just_avoids("opening-over-fall-limit")
def no_child_fits_through(data: Data, chance: random.Random) -> Planted:
    return Planted((), _open_for_a_child(data, chance, -0.5).also)


@plants("opening-over-fall-limit", state="as-commissioned")
def measured_gap_lets_a_child_through(data: Data, chance: random.Random, over_mm: float = 0.5) -> Planted:
    opening = _asked_of_bedrooms(data, chance)
    _needs(sash(data, opening).get("screen") != "guard")
    actuator = pick(chance, actuators_of(data, opening))
    data["record"]["actuators"][actuator]["measured_gap_mm"] = SPHERE_MM[_falls(data)] + over_mm
    return one(f"openings/{opening}", (f"record/actuators/{actuator}", f"actuators/{actuator}"))


@just_avoids("opening-over-fall-limit", state="as-commissioned")
def measured_gap_lets_nobody_through(data: Data, chance: random.Random) -> Planted:
    measured_gap_lets_a_child_through(data, chance, -0.5)
    return NOTHING


def _barrier(data: Data, chance: random.Random, over_mm: float) -> str:
    """NCC: 865 mm in other rooms from 4 m; Approved Document K: 800 mm over a drop of 600 mm."""
    falls = _falls(data)
    _needs(falls in ("NCC-2022-D3D29", "ADK-2013"))
    asked = [
        opening
        for opening, own in data["openings"].items()
        if own["sill_mm"] < 1700
        and own["drop_mm"] >= (4000 if falls == "NCC-2022-D3D29" else 601)
        and (use_of(data, opening) != "bedroom" or falls == "ADK-2013")
    ]
    opening = pick(chance, asked)
    own, height_mm = data["openings"][opening], (865 if falls == "NCC-2022-D3D29" else 800) + over_mm
    if chance.random() < 0.5:
        own["sill_mm"] = height_mm
    else:
        own |= {"sill_mm": 400, "barrier_mm": height_mm}
    return opening


@plants("barrier-too-low")
def low_barrier(data: Data, chance: random.Random) -> Planted:
    return one(f"openings/{_barrier(data, chance, chance.choice([-1, -300]))}")


@just_avoids("barrier-too-low")
def barrier_as_asked(data: Data, chance: random.Random) -> Planted:
    _barrier(data, chance, 0)
    return NOTHING


def _hold(data: Data, chance: random.Random, hold_n: float) -> tuple[str, str]:
    """NCC asks a restrictor to resist 250 N."""
    _needs(_falls(data) == "NCC-2022-D3D29")
    opening = _asked_of_bedrooms(data, chance)
    data["openings"][opening]["limit_by"] = "actuator"
    actuator = pick(chance, moved(data, opening))
    data["actuators"][actuator]["hold_n"] = hold_n
    return opening, actuator


@plants("restrictor-strength-unknown")
def holds_too_little(data: Data, chance: random.Random) -> Planted:
    opening, actuator = _hold(data, chance, chance.choice([249, 100]))
    return one(f"openings/{opening}", (f"openings/{opening}", f"actuators/{actuator}"))


@plants("restrictor-strength-unknown")
def hold_not_given(data: Data, chance: random.Random) -> Planted:
    opening, actuator = _hold(data, chance, 300)
    own = data["actuators"][actuator]
    del own["hold_n"]
    kind = data["types"]["actuators"][own["type"]]
    data["types"]["actuators"]["chain-no-hold"] = {key: value for key, value in kind.items() if key != "hold_n"}
    for mate in moved(data, opening):
        data["actuators"][mate]["type"] = "chain-no-hold"
    return one(f"openings/{opening}", (f"openings/{opening}", f"actuators/{actuator}"))


@just_avoids("restrictor-strength-unknown")
def holds_enough(data: Data, chance: random.Random) -> Planted:
    _hold(data, chance, 250)
    return NOTHING


def _reach(data: Data, chance: random.Random, sill_mm: float | None, protection: list[str]) -> Planted:
    """2.5 m above the floor is out of reach (IEC 60335-2-103 by a trade association's reading)."""
    opening = _single(data, chance)
    own = data["openings"][opening]
    _needs(own["sill_mm"] < 1700)
    own["protection"] = protection
    if sill_mm is not None:
        own["sill_mm"] = sill_mm
    return one(f"rooms/{own['room']}", (f"openings/{opening}", f"rooms/{own['room']}"))


@plants("finger-trap")
def edge_in_reach(data: Data, chance: random.Random) -> Planted:
    protection = chance.choice([[], ["warning-signal"], ["hold-to-run"]])
    return _reach(data, chance, chance.choice([None, 2490]), protection)


@just_avoids("finger-trap")
def edge_out_of_reach(data: Data, chance: random.Random) -> Planted:
    _reach(data, chance, 2510, [])
    return NOTHING


@plants("escape-window-restricted")
def no_way_out(data: Data, chance: random.Random) -> Planted:
    """Approved Document B: by hand, 450 mm both ways, 0.33 m², the bottom not over 1100 mm."""
    return one(f"openings/{_escape(data, chance, how=chance.choice(['hand', 'sill', 'width', 'area']), over=1)}")


@just_avoids("escape-window-restricted")
def way_out(data: Data, chance: random.Random) -> Planted:
    _escape(data, chance, how=chance.choice(["sill", "width", "area"]), over=-1)
    return NOTHING


def _escape(data: Data, chance: random.Random, *, how: str, over: int) -> str:
    """Make a window an escape window that is worse than asked by a little (1), or better (-1)."""
    opening = _single(data, chance)
    own = data["openings"][opening]
    _needs(own["sill_mm"] < 1700)
    room = data["rooms"][own["room"]]
    room["other_openings_m2"] = room.get("other_openings_m2", 0) + 1.0
    own |= {"escape": True, "hand_release": "hand"}
    if how == "hand":
        own["hand_release"] = chance.choice(["none", "tool"])
    elif how == "sill":
        own["sill_mm"] = 1100 + 5 * over
    elif how == "width":
        own["width_mm"] = 450 - 5 * over
    else:  # 0.33 m² of 600 mm is 550 mm
        own |= {"width_mm": 600, "height_mm": 550 - 5 * over}
    return opening


@plants("smoke-vent-unproven")
def stroke_not_stated(data: Data, chance: random.Random) -> Planted:
    vent = pick(chance, (o for o, own in data["openings"].items() if own.get("smoke_vent")))
    del data["openings"][vent]["smoke_stroke_mm"]
    return one(f"openings/{vent}")


@plants("smoke-vent-unproven")
def no_battery(data: Data, chance: random.Random) -> Planted:
    vents = [o for o, own in data["openings"].items() if own.get("smoke_vent")]
    supply = supply_of(data, moved(data, pick(chance, vents))[0])
    data["supplies"][supply]["battery"] = False
    return each(f"openings/{o}" for o in vents if supply_of(data, moved(data, o)[0]) == supply)


# Air


def _free_area_m2(data: Data, opening: str, gap_m: float) -> float:
    """A_geo = B·gap + L²·sin a of a top-hung sash, with a = 2·asin(gap/2L)."""
    kind = sash(data, opening)
    length_m, width_m = kind["height_mm"] / 1000, kind["width_mm"] / 1000
    return float(width_m * gap_m + length_m**2 * math.sin(2 * math.asin(gap_m / (2 * length_m))))


def _starve(data: Data, chance: random.Random, gap_mm: float, part: float) -> str:
    """Leave a room the air it is asked for, or a part of it, when its windows open to a gap at most."""
    air = _air(data)
    _needs(air != "ADF-2021-T1.4" and _falls(data) in ("NCC-2022-D3D29", "ADK-2013"))
    name = data["openings"][_asked_of_bedrooms(data, chance)]["room"]
    openings = [o for o, own in data["openings"].items() if own["room"] == name]
    _needs(all(data["openings"][o]["sill_mm"] < 1700 and data["openings"][o]["drop_mm"] >= 2000 for o in openings))
    asked_m2 = data["rooms"][name]["floor_area_m2"] * (0.05 if air.startswith("NCC") else 0.04)
    free_m2 = sum(_free_area_m2(data, o, gap_mm / 1000) for o in openings)
    data["rooms"][name]["other_openings_m2"] = round(part * asked_m2 - free_m2, 4)
    _needs(data["rooms"][name]["other_openings_m2"] >= 0)
    return str(name)


@plants("fall-limit-starves-room")
def starved(data: Data, chance: random.Random) -> Planted:
    return one(f"rooms/{_starve(data, chance, SPHERE_MM[_falls(data)], chance.choice([0.99, 0.8]))}")


@just_avoids("fall-limit-starves-room")
def just_fed(data: Data, chance: random.Random) -> Planted:
    _starve(data, chance, SPHERE_MM[_falls(data)] - 1, 1.01)
    return NOTHING


def _angle(data: Data, chance: random.Random, angle_deg: float) -> Planted:
    """Approved Document F gives a sash that opens less than 15° no area."""
    _needs(_air(data) == "ADF-2021-T1.4")
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
    air = _air(data)
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
