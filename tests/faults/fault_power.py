"""Faults of supplies and of the cables that carry power."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planting import (
    NOTHING,
    CannotPlant,
    Planted,
    actuators_on,
    behind,
    each,
    fields,
    just_avoids,
    neighbours,
    one,
    peak_a,
    pick,
    plants,
    reached,
    supply_of,
)

if TYPE_CHECKING:
    import random

Data = dict[str, Any]

OHM_M = {4: 4.95e-3, 2.5: 7.98e-3}
"""Resistance of a conductor of class 5 at 20 °C by size (IEC 60228) [Ω/m]."""

AT_40_C = 1 + 0.00393 * 20


def _whole_blocks(data: Data) -> list[tuple[str, str]]:
    """List the supplies that feed all actuators of one controller and none of another, with the controller."""
    found = []
    for supply in data["supplies"]:
        nodes = reached(data, "power", supply)[0]
        fed = {node for node in nodes if node in data["actuators"]}
        found += [(supply, c) for c in data["controllers"] if c in nodes and fed == set(actuators_on(data, c))]
    return found


def _feeds(data: Data) -> list[tuple[str, str]]:
    """List the cables behind which the actuators of exactly one group are, with the group."""
    groups = {frozenset(own["actuators"]): group for group, own in data["groups"].items()}
    found = []
    for cable, own in data["cables"].items():
        if own["carries"] == ["power"] and own["type"] == "feed-2x4":
            fed = frozenset(node for node in behind(data, cable) if node in data["actuators"])
            found += [(cable, groups[fed])] if fed in groups else []
    return found


@plants("power-missing")
def nothing_feeds_it(data: Data, chance: random.Random) -> Planted:
    met = neighbours(data, "power")
    things = [n for section in ("actuators", "sensors", "controllers") for n in data[section]]
    leaf = pick(chance, (node for node in things if len(met[node]) == 1))
    cable = data["cables"][met[leaf][0][0]]
    # The zero volts of its supply end there too, and with them what a common conductor from there on joined.
    joins = any("common" in own["carries"] and leaf in (own["from"], own["to"]) for own in data["cables"].values())
    cable["carries"] = [what for what in cable["carries"] if what != "power"]
    if not cable["carries"]:
        del data["cables"][met[leaf][0][0]]
    section = next(section for section in ("actuators", "sensors", "controllers") if leaf in data[section])
    return one(f"{section}/{leaf}", also={"bus-without-common"} if joins else set())


def _cable(data: Data, one_end: str, other: str, *carries: str, length_m: float = 9) -> str:
    data["cables"]["K-added"] = {
        "from": one_end, "to": other, "length_m": length_m, "type": "drive-2x2.5-pair", "carries": list(carries),
    }  # fmt: skip
    return "K-added"


@plants("supplies-joined")
def two_supplies_in_parallel(data: Data, chance: random.Random) -> Planted:
    """A vent on both a supply with a battery and one without is not proven: a note that may follow."""
    if len(data["supplies"]) < 2:
        raise CannotPlant
    two = chance.sample(list(data["supplies"]), 2)
    ends = [
        pick(chance, (n for n in reached(data, "power", supply)[0] if n not in data["controllers"])) for supply in two
    ]
    _cable(data, *ends, "power")
    both = [f"supplies/{supply}" for supply in two]
    unlike = len({bool(data["supplies"][supply].get("battery")) for supply in two}) > 1
    return one(both, [*both, "cables/K-added"], {"smoke-vent-unproven"} if unlike else set())


@plants("power-loop")
def fed_from_two_sides(data: Data, chance: random.Random) -> Planted:
    supply = pick(chance, data["supplies"])
    nodes = [n for n in reached(data, "power", supply)[0] if n not in data["controllers"] and n not in data["sensors"]]
    met = neighbours(data, "power")
    near = {other for _, other in met[supply]}
    _cable(data, supply, pick(chance, (n for n in nodes if n != supply and n not in near)), "power")
    return one(f"supplies/{supply}", [f"cables/{cable}" for cable in reached(data, "power", supply)[1]])


@plants("supply-overloaded")
def supply_too_small(data: Data, chance: random.Random, part: float = 0.98) -> Planted:
    supply, _ = pick(chance, _whole_blocks(data))
    data["supplies"][supply]["output_a"] = round(part * peak_a(data, reached(data, "power", supply)[0]), 3)
    return one(f"supplies/{supply}")


@just_avoids("supply-overloaded")
def supply_large_enough(data: Data, chance: random.Random) -> Planted:
    supply_too_small(data, chance, 1.02)
    return NOTHING


@plants("controller-overloaded")
def controller_passes_too_much(data: Data, chance: random.Random, part: float = 0.98) -> Planted:
    """What a controller passes on is what hangs behind it; its own current does not go through."""
    through = []
    for supply, controller in _whole_blocks(data):
        met = neighbours(data, "power")
        if [other for _, other in met[supply]] in ([controller], [f"J-{controller[2:]}"]):
            through.append((supply, controller))
    supply, controller = pick(chance, through)
    nodes = [n for n in reached(data, "power", supply)[0] if n != controller]
    data["controllers"][controller]["output_a"] = round(part * peak_a(data, nodes), 3)
    return one(f"controllers/{controller}")


@just_avoids("controller-overloaded")
def controller_passes_enough(data: Data, chance: random.Random) -> Planted:
    controller_passes_too_much(data, chance, 1.02)
    return NOTHING


def _lengthen(data: Data, chance: random.Random, lost_v: float, *, at_most: bool) -> str:
    """Make the feed of a group so long that it alone loses a voltage when the group closes.

    What the cables before and behind lose besides is left out, or, for ``at_most``, taken with all that they could carry.
    """
    cable, group = pick(chance, _feeds(data))
    own = data["cables"][cable]
    fed = behind(data, cable)
    current_a = peak_a(data, fed)
    if at_most:
        supply = supply_of(data, own["from"])
        whole_a = peak_a(data, reached(data, "power", supply)[0])
        before = [k for k in reached(data, "power", supply)[1] if set(fed) < set(behind(data, k))]
        inside = list(reached(data, "power", fed[0], without=cable)[1])
        lost_v -= sum(whole_a * _loop_ohm(data, k) for k in before) + sum(
            current_a * _loop_ohm(data, k) for k in inside
        )
    own["length_m"] = 1
    length_m = lost_v / (current_a * _loop_ohm(data, cable))
    if length_m < 1:
        raise CannotPlant
    own["length_m"] = round(length_m, 2)
    return group


def _loop_ohm(data: Data, cable: str) -> float:
    kind = fields(data, "cables", cable)
    return float(2 * OHM_M[kind["conductor_mm2"]] * AT_40_C * kind["length_m"])


def _margin_v(data: Data, group: str) -> float:
    supply = fields(data, "supplies", supply_of(data, data["groups"][group]["actuators"][0]))
    return float(supply.get("output_min_v", supply["output_v"]) - 20.4)


def _far_group(data: Data, chance: random.Random, spare_v: float, *, at_most: bool) -> str:
    """Lengthen a feed by what its group has in hand, and a little more or less."""
    before = {cable: own["length_m"] for cable, own in data["cables"].items()}
    state = chance.getstate()
    group = _lengthen(data, chance, 1, at_most=False)
    for cable, length_m in before.items():
        data["cables"][cable]["length_m"] = length_m
    chance.setstate(state)
    return _lengthen(data, chance, _margin_v(data, group) + spare_v, at_most=at_most)


@plants("voltage-too-low")
def too_far_from_the_supply(data: Data, chance: random.Random) -> Planted:
    group = _far_group(data, chance, chance.choice([0.05, 2]), at_most=False)
    return each(f"actuators/{actuator}" for actuator in data["groups"][group]["actuators"])


@just_avoids("voltage-too-low")
def near_enough(data: Data, chance: random.Random) -> Planted:
    _far_group(data, chance, -0.05, at_most=True)
    return NOTHING


@plants("measured-voltage-too-low", state="as-commissioned")
def measured_too_low(data: Data, chance: random.Random, volts: float = 20.3) -> Planted:
    actuator = pick(chance, data["actuators"])
    data["record"]["actuators"][actuator]["voltage_moving_v"] = volts
    return one(f"actuators/{actuator}", f"record/actuators/{actuator}")


@just_avoids("measured-voltage-too-low", state="as-commissioned")
def measured_just_enough(data: Data, chance: random.Random) -> Planted:
    measured_too_low(data, chance, 20.4)
    return NOTHING


@plants("cable-current-too-high")
def cable_too_thin(data: Data, chance: random.Random, part: float = 0.98) -> Planted:
    cable, _ = pick(chance, _feeds(data))
    supply = supply_of(data, data["cables"][cable]["from"])
    data["cables"][cable]["current_max_a"] = round(part * peak_a(data, behind(data, cable)), 3)
    data["supplies"][supply]["fuse_a"] = 0.1  # so that the fuse is not the finding
    return one(f"cables/{cable}", also={"fuse-under-load"})


@just_avoids("cable-current-too-high")
def cable_thick_enough(data: Data, chance: random.Random) -> Planted:
    return Planted((), cable_too_thin(data, chance, 1.02).also)


@plants("fuse-over-cable")
def fuse_too_large(data: Data, chance: random.Random, over_a: float = 0.5) -> Planted:
    supply = pick(chance, data["supplies"])
    cables = reached(data, "power", supply)[1]
    if not cables:
        raise CannotPlant
    data["supplies"][supply]["fuse_a"] = min(fields(data, "cables", c)["current_max_a"] for c in cables) + over_a
    return one(f"supplies/{supply}")


@just_avoids("fuse-over-cable")
def fuse_as_large_as_the_cable(data: Data, chance: random.Random) -> Planted:
    fuse_too_large(data, chance, 0)
    return NOTHING


@plants("outside-extra-low-voltage")
def touch_can_kill(data: Data, chance: random.Random, volts: float = 120.5) -> Planted:
    """Extra-low voltage is at most 120 V of ripple-free DC (IEC 60050)."""
    supply = pick(chance, data["supplies"])
    data["supplies"][supply]["output_v"] = volts
    return one(f"supplies/{supply}")


@just_avoids("outside-extra-low-voltage")
def touch_does_not_kill(data: Data, chance: random.Random) -> Planted:
    touch_can_kill(data, chance, 120)
    return Planted((), frozenset({"voltage-over-rating"}))
