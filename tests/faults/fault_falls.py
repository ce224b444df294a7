"""Faults of windows that people fall from, catch a hand in, or leave by; the figures are the rules' own."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from clean_sites import SPHERE_MM, actuators_of, sash
from planting import (
    NOTHING,
    Planted,
    each,
    just_avoids,
    moved,
    one,
    pick,
    plants,
    set_strokes,
    supply_of,
    use_of,
)
from sites import SIGNED
from windows import air_rule, child_window, falls_rule, needs, single_window

if TYPE_CHECKING:
    import random

Data = dict[str, Any]


def _open_for_a_child(data: Data, chance: random.Random, over_mm: float) -> Planted:
    """At the closing edge of a top-hung sash the gap is the stroke."""
    opening = child_window(data, chance)
    data["openings"][opening]["screen"] = chance.choice(["none", "insect"])
    actuators = set_strokes(data, opening, SPHERE_MM[falls_rule(data)] + over_mm)
    at = [f"openings/{opening}", *(f"actuators/{a}" for a in actuators)]
    return one(f"openings/{opening}", at, _of_less_stroke(data))


def _of_less_stroke(data: Data) -> frozenset[str]:
    """Where air counts by angle, a stroke of 100 mm counts nothing; and it closes sooner."""
    by_angle = {"opening-angle-not-counted", "room-opening-area-small"} if air_rule(data).startswith("ADF") else set()
    return frozenset(by_angle | {"closing-time-off", "fall-limit-starves-room"})


@plants("opening-over-fall-limit")
def a_child_fits_through(data: Data, chance: random.Random) -> Planted:
    return _open_for_a_child(data, chance, chance.choice([0, 0.5, 40]))


@just_avoids("opening-over-fall-limit")
def no_child_fits_through(data: Data, chance: random.Random) -> Planted:
    return Planted((), _open_for_a_child(data, chance, -0.5).also)


@plants("opening-over-fall-limit", state="as-commissioned")
def measured_gap_lets_a_child_through(data: Data, chance: random.Random, over_mm: float = 0.5) -> Planted:
    opening = child_window(data, chance)
    needs(sash(data, opening).get("screen") != "guard")
    actuator = pick(chance, actuators_of(data, opening))
    data["record"]["actuators"][actuator]["measured_gap_mm"] = SPHERE_MM[falls_rule(data)] + over_mm
    return one(f"openings/{opening}", (f"record/actuators/{actuator}", f"actuators/{actuator}"))


@just_avoids("opening-over-fall-limit", state="as-commissioned")
def measured_gap_lets_nobody_through(data: Data, chance: random.Random) -> Planted:
    measured_gap_lets_a_child_through(data, chance, -0.5)
    return NOTHING


def _barrier(data: Data, chance: random.Random, over_mm: float) -> str:
    """NCC: 865 mm in other rooms from 4 m; Approved Document K: 800 mm over a drop of 600 mm."""
    falls = falls_rule(data)
    needs(falls in ("NCC-2022-D3D29", "ADK-2013"))
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
    needs(falls_rule(data) == "NCC-2022-D3D29")
    opening = child_window(data, chance)
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
    opening, actuator = _hold(data, chance, 250)
    half = data["actuators"][actuator]["stroke_mm"] / (2 * sash(data, opening)["height_mm"])
    data["actuators"][actuator]["hold_n"] = 250.01 / math.sqrt(1 - half * half)
    return NOTHING


def _reach(data: Data, chance: random.Random, sill_mm: float | None, protection: list[str]) -> Planted:
    """2.5 m above the floor is out of reach (IEC 60335-2-103 by a trade association's reading)."""
    opening = single_window(data, chance)
    own = data["openings"][opening]
    needs(own["sill_mm"] < 1700)
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
    opening = single_window(data, chance)
    own = data["openings"][opening]
    needs(own["sill_mm"] < 1700)
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
    if "record" in data and own["hand_release"] == "hand":
        data["record"].setdefault("openings", {}).setdefault(opening, {**SIGNED})["release_test"] = "pass"
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
