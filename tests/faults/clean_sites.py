"""Random sites in which nothing is to be found: `sites.site_data`, varied as real buildings vary.

Clean means no finding at all, no note either; only a group that spans two rooms may be there, where the plan accepts
it. Every variation keeps the site clean by what the design and the published rules say, never by trying.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from sites import SIGNED, record, site_data

if TYPE_CHECKING:
    import random

Data = dict[str, Any]

SPHERE_MM = {"NCC-2022-D3D29": 125, "IRC-R312.2": 102, "BS-8213-1": 100}
"""What must not pass, by fall rule: ABCB guide to D3D29, IRC R312.2, BS 8213-1; Approved Document K judges no sash."""

FLOOR_FRACTION = {"NCC-2022-HP-10.6.2": 0.05, "IRC-R303.1": 0.04, "ADF-2021-T1.4": 0.1}
"""Opening area asked, of the floor area; Approved Document F for sashes that open 15° to under 30°."""

_BASE = {"width_mm": 900, "height_mm": 1000, "sash_mass_kg": 22, "stays": "none", "lock": "none", "seal_n_per_m": 5}
_HINGES: Data = {
    "tilt-900": {"hinge": "bottom-hung", "opens": "inward", "protection": ["light-curtain"]},
    "side-900": {"hinge": "side-hung", "opens": "outward", "protection": ["assessed"]},
    "pivot-900": {"hinge": "centre-pivot", "opens": "outward", "protection": ["pressure-edge"], "pivot_brackets": True},
    "roof-900": {"hinge": "top-hung", "opens": "outward", "pitch_deg": 35, "protection": ["pressure-edge"]},
}


def clean_site(chance: random.Random, actuators: int, state: str) -> Data:
    """Draw a clean site.

    Parameters
    ----------
    chance
        What draws; equal states of it give equal sites.
    actuators
        How many.
    state
        ``as-designed``, ``as-commissioned`` (recorded in full) or ``saved``.
    """
    data = site_data(
        actuators,
        seed=chance.randrange(2**32),
        per_controller=chance.randint(9, 40),
        per_group=chance.randint(3, 9),
    )
    data["state"] = state
    _choose_rules(data, chance)
    _vary_groups(data, chance)
    _state_what_is_so(data)
    _fit_to_rules(data, chance)
    two_lines = chance.random() < 0.2  # where a controller has two, its bus_ohm says nothing
    for controller in list(data["controllers"]):
        _vary_block(data, chance, controller, two_lines=two_lines)
    if chance.random() < 0.5:
        _span_rooms(data, chance)
    data = _renamed(data, chance)
    if state == "as-commissioned":
        record_all(data)
    return _saved(data) if state == "saved" else data


def _choose_rules(data: Data, chance: random.Random) -> None:
    falls = chance.choice(["NCC-2022-D3D29", "NCC-2022-D3D29", "ADK-2013", "IRC-R312.2", "BS-8213-1"])
    air = chance.choice(["NCC-2022-HP-10.6.2", "IRC-R303.1", "ADF-2021-T1.4"])
    data["site"]["rules"] = {"falls": falls, "ventilation": air, "escape": "ADB-ESCAPE"}
    data["site"]["wind_m_s"] = chance.choice([8, 10, 12])


def _vary_groups(data: Data, chance: random.Random) -> None:
    """Hinges, shelter, smoke vents, escape windows and high sills, a group at a time."""
    data["types"]["openings"] |= {name: _BASE | fields for name, fields in _HINGES.items()}
    for group, fields in data["groups"].items():
        openings = openings_of(data, group)
        room = data["rooms"][data["openings"][openings[0]]["room"]]
        kinds = ["plain", "plain", "escape", "high", "sheltered"]
        if all(data["openings"][opening]["type"] == "plain-900" for opening in openings) and room["use"] != "bedroom":
            kinds = ["hinge", "smoke", "high", "sheltered", "plain"]
        kind = chance.choice(kinds)
        if kind == "hinge":
            _rehang(data, chance, group, openings)
        elif kind == "smoke":
            room["use"] = "circulation"
            data["controllers"][fields["controller"]]["fire_command_outranks"] = True
        for opening in openings:
            own = data["openings"][opening]
            if kind == "smoke":
                own |= {
                    "smoke_vent": True,
                    "smoke_stroke_mm": (asked := chance.randint(300, 350)),
                    "fire_stroke_mm": asked,
                }
            elif kind == "escape":
                own |= {"escape": True, "hand_release": "hand"}
            elif kind == "high":
                own |= {"sill_mm": 2700, "protection": []}
            elif kind == "sheltered":
                own["sheltered"] = True


def _state_what_is_so(data: Data) -> None:
    """Say of every sash what a rule may turn on: what is not stated is not known."""
    stated = {"access_outside": False, "over_walkway": False, "foothold_mm": 0, "hand_release": "none",
              "child_resistant_release": True, "smoke_vent": False, "escape": False}  # fmt: skip
    for fields in data["types"]["openings"].values():
        fields |= {**stated, **fields}
        if fields["hinge"] == "centre-pivot":
            fields |= {"axis": "horizontal", "pivot_coefficient": 0.3}
    for fields in data["types"]["controllers"].values():
        fields["panel_locked"] = True
    for fields in data["types"]["actuators"].values():
        fields["speed_fire_mm_s"] = 150
    for fields in data["types"]["cables"].values():
        fields["fire_minutes"] = 30
    for fields in data["types"]["sensors"].values():
        if fields["measures"] == "wind":
            fields["wind_above_m_s"] = 8
    data["site"] |= {"snow_kpa": 0.1, "storm_wind_m_s": 15, "storm_suction": 1.0, "storm_pressure": 1.0}


def _rehang(data: Data, chance: random.Random, group: str, openings: list[str]) -> None:
    """Hang a group's sashes otherwise; none of these covers its own opening, so rain closes them fully."""
    name = chance.choice(list(_HINGES))
    for opening in openings:
        data["openings"][opening]["type"] = name
    data["wet_weather"][group]["open_percent"] = 0


def _fit_to_rules(data: Data, chance: random.Random) -> None:
    """Set strokes, sills, screens and floor areas as the named rules ask."""
    falls, air = data["site"]["rules"]["falls"], data["site"]["rules"]["ventilation"]
    by_angle = air == "ADF-2021-T1.4"
    if falls == "BS-8213-1":
        for fields in data["types"]["openings"].values():
            fields |= {"screen": "guard", "screen_opens": True}
    for room in data["rooms"].values():
        if by_angle and room["use"] == "bedroom":
            room["use"] = "office"
            room.pop("other_openings_m2", None)
    for opening, own in data["openings"].items():
        bedroom = data["rooms"][own["room"]]["use"] == "bedroom"
        if bedroom and falls == "IRC-R312.2" and not own.get("escape") and own["sill_mm"] == 900:
            own["sill_mm"] = 500
        for actuator in actuators_of(data, opening):
            if bedroom:
                data["actuators"][actuator]["stroke_mm"] = 120 if falls == "NCC-2022-D3D29" else 95
            elif by_angle:  # 17° on 1000 mm, 19° on 900 mm
                data["actuators"][actuator]["stroke_mm"] = 300
    for name, room in data["rooms"].items():
        area_m2 = sum(sash_area_m2(data, o) for o, own in data["openings"].items() if own["room"] == name)
        room["floor_area_m2"] = round(area_m2 / FLOOR_FRACTION[air] * chance.uniform(0.5, 0.95), 1)


def _vary_block(data: Data, chance: random.Random, controller: str, *, two_lines: bool) -> None:
    """Wiring and sensors of one controller."""
    number = controller.removeprefix("C-")
    groups = [group for group, fields in data["groups"].items() if fields["controller"] == controller]
    if any(data["openings"][o].get("smoke_vent") for group in groups for o in openings_of(data, group)):
        data["supplies"][f"PS-{number}"] |= {"battery": True, "output_v": 26.4, "output_min_v": 23.2, "battery_ah": 400}
    if chance.random() < 0.4:  # the controller passes the current on
        for cable in data["cables"].values():
            if cable["from"] == f"PS-{number}" and cable["to"] != controller:
                cable["from"] = controller
    if chance.random() < 0.5:
        _add_junction(data, chance, number)
    if chance.random() < 0.4 and len(groups) > 1:
        _feed_from_another(data, number, groups[-1])
    elif two_lines and len(groups) > 1:
        _run_second_line(data, chance.choice(groups[1:]), groups)
    if chance.random() < 0.3:
        _hang_on_stub(data, number)
    if chance.random() < 0.3:
        _sync_by_bus(data, number)
    if chance.random() < 0.6:
        _add_wind_sensor(data, chance, number, groups)


def _add_junction(data: Data, chance: random.Random, number: str) -> None:
    """Lead one cable through a box."""
    cable = chance.choice(
        [k for k, c in data["cables"].items() if k.startswith(f"K-{number}-") and "sync" not in c["carries"]]
    )
    box, old = f"J-{number}", data["cables"][cable]
    data.setdefault("junctions", {})[box] = {"room": chance.choice(list(data["rooms"]))}
    data["cables"][f"{cable}x"] = old | {"from": box}
    data["cables"][cable] = old | {"to": box, "length_m": 2}


def _feed_from_another(data: Data, number: str, group: str) -> None:
    """Feed the last group from a supply of its own; the bus then carries a common conductor to it."""
    first, supply = data["groups"][group]["actuators"][0], f"PS-{number}b"
    data["supplies"][supply] = {**data["supplies"][f"PS-{number}"]}
    for cable in data["cables"].values():
        if cable["carries"] == ["power"] and cable["to"] == first:
            cable["from"] = supply
        elif cable["carries"] == ["bus"] and _leads_to(data, cable, first):
            cable["carries"] = ["bus", "common"]


def _leads_to(data: Data, cable: Data, node: str) -> bool:
    """Whether a cable ends at a node, or at a box from which another one does."""
    if cable["to"] == node:
        return True
    return cable["to"] in data.get("junctions", {}) and any(
        c["from"] == cable["to"] and c["to"] == node for c in data["cables"].values()
    )


def _run_second_line(data: Data, group: str, groups: list[str]) -> None:
    """Run the bus to a group and those after it from a second line of the controller, each line with two ends."""
    first = data["groups"][group]["actuators"][0]
    before = data["groups"][groups[groups.index(group) - 1]]["actuators"][-1]
    for cable in data["cables"].values():
        if cable["carries"] == ["bus"] and cable["from"] == before and _leads_to(data, cable, first):
            cable |= {"from": data["groups"][group]["controller"], "line": "2"}
            data["terminators"].append(before)


def _hang_on_stub(data: Data, number: str) -> None:
    """Hang the second rain sensor on the line beside the first, by a stub; the first is then the end."""
    first, second = f"R-{number}-1", f"R-{number}-2"
    cables = list(data["cables"].values())
    if any(c["to"] == second and c["from"] == first for c in cables):
        before = next(c["from"] for c in cables if c["to"] == first)
        next(c for c in cables if c["to"] == second).update({"from": before, "length_m": 1.2})
        data["terminators"][data["terminators"].index(second)] = first


def _sync_by_bus(data: Data, number: str) -> None:
    """Let the pairs of a block keep step over the bus."""
    data["types"]["actuators"]["chain-24-350-bus"] = {**data["types"]["actuators"]["chain-24-350"], "sync": "bus"}
    for actuator, own in data["actuators"].items():
        if actuator.startswith(f"A-{number}-"):
            own["type"] = "chain-24-350-bus"
    for cable, own in data["cables"].items():
        if cable.startswith(f"K-{number}-"):
            own["carries"] = [what for what in own["carries"] if what != "sync"]


def _add_wind_sensor(data: Data, chance: random.Random, number: str, groups: list[str]) -> None:
    """Add a wind sensor on a contact of the controller."""
    sensor, some = f"WS-{number}", chance.sample(groups, chance.randint(1, len(groups)))
    data["types"]["sensors"]["wind-cups"] = {
        "measures": "wind", "connects": "contact", "wind_above_m_s": 8, "if_lost": "fault", "responds_s": 5,
        "running_a": 0.02,
    }  # fmt: skip
    data["sensors"][sensor] = {
        "type": "wind-cups",
        "controller": f"C-{number}",
        "facade_deg": data["sensors"][f"R-{number}-1"]["facade_deg"],
        "serial": f"{52_000_000 + int(number):08}",
    }
    data["links"][sensor] = some
    actions = ({"when_calm": "stay"}, {"when_calm": "return", "calm_minutes": 20})
    data.setdefault("strong_wind", {}).update({group: dict(chance.choice(actions)) for group in some})
    data["cables"][f"K-{number}-wind"] = {
        "from": sensor, "to": f"C-{number}", "length_m": 14, "type": "drive-2x2.5-pair", "carries": ["power", "contact"],
    }  # fmt: skip


def _span_rooms(data: Data, chance: random.Random) -> None:
    """Give one window of a group to a room of its own, and accept that the group spans both."""
    wide = [group for group in data["groups"] if len(openings_of(data, group)) > 1]
    if wide:
        group = chance.choice(wide)
        split_room(data, group, f"{group}-next")
        accept(data, "group-spans-rooms", f"/groups/{group}", by="architect", until="2031-03-01")


def split_room(data: Data, group: str, name: str) -> None:
    """Move the last window of a group to a room of its own; both rooms are small enough for what is left to them."""
    opening = data["openings"][openings_of(data, group)[-1]]
    old = data["rooms"][opening["room"]]
    old["floor_area_m2"] = round(old["floor_area_m2"] / 3, 1)
    data["rooms"][name] = {**old, "floor_area_m2": 4}
    opening["room"] = name


def accept(data: Data, check: str, at: str, **more: str) -> None:
    """Accept a finding."""
    data.setdefault("accepted", []).append({"check": check, "at": at, "because": "Open-plan floor", **more})


def _renamed(data: Data, chance: random.Random) -> Data:
    """Write ids in another style, everywhere at once; groups whose ids others are made of come along."""
    style = chance.choice(["as they are", "storey first", "numbers only"])
    names: dict[str, str] = {}
    for section in ("actuators", "openings") if style != "as they are" else ():
        for count, thing in enumerate(data[section], start=1):
            letter, *numbers = thing.split("-")
            plain = f"{100_000 * (section == 'openings') + 10_000 + count}"
            names[thing] = plain if style == "numbers only" else f"{numbers[0]}.OG-{letter}{'.'.join(numbers[1:])}"

    def told(value: Any) -> Any:
        if isinstance(value, dict):
            return {names.get(key, key): told(item) for key, item in value.items()}
        if isinstance(value, list):
            return [told(item) for item in value]
        return names.get(value, value) if isinstance(value, str) else value

    return {**told(data)}


def _type_of(data: Data, section: str, own: Data, field: str) -> Any:
    """Give what the type of a thing says."""
    return data["types"][section].get(own.get("type"), {}).get(field)


def record_all(data: Data) -> None:
    """Fill the record: everything tested, passed, and as computed."""
    record(data)
    seen = data["record"]
    for sensor in [s for s in seen["sensors"] if data["sensors"][s]["type"] == "wind-cups"]:
        seen["sensors"][sensor] = {"wind_test": "pass", **SIGNED}
    batteries = [
        s for s, own in data["supplies"].items() if own.get("battery") or _type_of(data, "supplies", own, "battery")
    ]
    if batteries:
        seen["supplies"] = {supply: {"battery_test": "pass", **SIGNED} for supply in batteries}
    tried = {}
    for opening, own in data["openings"].items():
        stops = own.get("protection") or _type_of(data, "openings", own, "protection") or []
        tests = {"edge_test": "pass"} if {"pressure-edge", "light-curtain"} & set(stops) else {}
        if own.get("escape") and own.get("hand_release") == "hand":
            tests["release_test"] = "pass"
        if tests:
            tried[opening] = {**tests, **SIGNED}
    if tried:
        seen["openings"] = tried
    for group, fields in data["groups"].items():
        if any(data["openings"][opening].get("smoke_vent") for opening in openings_of(data, group)):
            seen["controllers"][fields["controller"]]["fire_test"] = "pass"
    for own in seen["actuators"].values():
        own["voltage_moving_v"] = 22.9


def _saved(data: Data) -> Data:
    """Give what a copy of the same site would hold."""
    kept = {
        key: data[key] for key in ("format", "state", "groups", "links", "wet_weather", "strong_wind") if key in data
    }
    return {
        **kept,
        "site": {"name": data["site"]["name"], "date": "2026-05-14"},
        "actuators": {k: {"serial": own["serial"], "opening": own["opening"]} for k, own in data["actuators"].items()},
        "sensors": {k: {"serial": own["serial"]} for k, own in data["sensors"].items()},
        "saved": {"date": "2026-05-14", "by": "installer", "because": "Hand-over"},
    }


def actuators_of(data: Data, opening: str) -> list[str]:
    """List the actuators of a sash."""
    return [actuator for actuator, own in data["actuators"].items() if own["opening"] == opening]


def openings_of(data: Data, group: str) -> list[str]:
    """List the openings a group moves, each once."""
    return list(dict.fromkeys(data["actuators"][member]["opening"] for member in data["groups"][group]["actuators"]))


def sash(data: Data, opening: str) -> Data:
    """Give the fields of an opening, those of its type below its own."""
    own = data["openings"][opening]
    return {**data["types"]["openings"][own["type"]], **own}


def sash_area_m2(data: Data, opening: str) -> float:
    """Give width times height [m²]."""
    fields = sash(data, opening)
    return float(fields["width_mm"] * fields["height_mm"]) / 1e6


def any_size(chance: random.Random) -> int:
    """Draw a number of actuators from 5 to 300; each doubling is as likely as the next."""
    return round(math.exp(chance.uniform(math.log(5), math.log(300))))
