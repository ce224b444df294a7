"""Faults of the bus."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

from planting import (
    NOTHING,
    Planted,
    carrying,
    controller_on,
    fields,
    just_avoids,
    neighbours,
    one,
    own_part,
    pick,
    plants,
    reached,
)

if TYPE_CHECKING:
    import random

Data = dict[str, Any]

STUB_M = 1.5
"""Longest stub that the controllers here allow."""


def _line(data: Data, controller: str) -> list[str]:
    """Give the nodes of a bus in order from its controller, a device on a stub left out."""
    met = neighbours(data, "bus")
    nodes = [controller]
    while True:
        onward = [
            other
            for cable, other in met[nodes[-1]]
            if other not in nodes and not (len(met[other]) == 1 and _stub(data, cable) and len(met[nodes[-1]]) > 2)
        ]
        if not onward:
            return nodes
        nodes.append(onward[0])


def _stub(data: Data, cable: str) -> bool:
    return float(data["cables"][cable]["length_m"]) <= STUB_M and {"sync"}.isdisjoint(data["cables"][cable]["carries"])


def _without_stub(data: Data, chance: random.Random) -> tuple[str, list[str]]:
    """Choose a bus that is one line of some length, its two sensors at the end."""
    lines = {c: _line(data, c) for c in data["controllers"]}
    whole = [
        c for c, line in lines.items() if len(line) == len(reached(data, "bus", c)[0]) and line[-1] in data["sensors"]
    ]
    controller = pick(chance, (c for c in whole if len(lines[c]) > 6))
    return controller, lines[controller]


def _between(data: Data, one_end: str, other: str) -> str:
    return next(c for c, own in carrying(data, "bus").items() if {own["from"], own["to"]} == {one_end, other})


def _drop(data: Data, cable: str, what: str = "bus") -> None:
    own = data["cables"][cable]
    own["carries"] = [carried for carried in own["carries"] if carried not in (what, "common")]
    if not own["carries"]:
        del data["cables"][cable]


def _add(data: Data, one_end: str, other: str, length_m: float, *carries: str) -> str:
    data["cables"]["K-added"] = {
        "from": one_end, "to": other, "length_m": length_m, "type": "drive-2x2.5-pair", "carries": list(carries),
    }  # fmt: skip
    return "K-added"


def _section(data: Data, node: str) -> str:
    return next(f"{s}/{node}" for s in ("controllers", "actuators", "sensors", "junctions") if node in data.get(s, {}))


@plants("bus-branches")
def branch(data: Data, chance: random.Random) -> Planted:
    """The two sensors are led from a device in mid-line; two or more devices stay behind it."""
    controller, line = _without_stub(data, chance)
    node = pick(chance, line[1:-4])
    _drop(data, _between(data, line[-3], line[-2]))
    _add(data, node, line[-2], 8, "bus", "common")
    return one(f"controllers/{controller}", (_section(data, node), "cables/K-added"))


def _on_a_stub(data: Data, chance: random.Random, length_m: float) -> str:
    controller, line = _without_stub(data, chance)
    _drop(data, _between(data, line[-2], line[-1]))
    _add(data, pick(chance, line[1:-2]), line[-1], length_m, "bus", "common")
    data["terminators"][data["terminators"].index(line[-1])] = line[-2]
    return controller


@plants("stub-too-long")
def long_stub(data: Data, chance: random.Random) -> Planted:
    return one(f"controllers/{_on_a_stub(data, chance, chance.choice([1.6, 12]))}", "cables/K-added")


@just_avoids("stub-too-long")
def short_stub(data: Data, chance: random.Random) -> Planted:
    _on_a_stub(data, chance, STUB_M)
    return NOTHING


@plants("bus-loop")
def ring(data: Data, chance: random.Random) -> Planted:
    controller, line = _without_stub(data, chance)
    node = pick(chance, line[:-3])
    _add(data, line[-1], node, 20, "bus", "common")
    around = line[line.index(node) :]
    cables = [f"cables/{_between(data, a, b)}" for a, b in itertools.pairwise(around)]
    also = {"bus-branches"} if node != controller else set()
    return one(f"controllers/{controller}", [*cables, "cables/K-added"], also)


@plants("bus-in-pieces")
def cut_through(data: Data, chance: random.Random) -> Planted:
    """Both new ends get a resistor, so that only the cut is wrong; a device stays with the controller, two go."""
    _, line = _without_stub(data, chance)
    devices = [node not in data.get("junctions", {}) for node in line]
    cuts = [
        (line[at - 1], line[at])
        for at in range(2, len(line))
        if any(devices[1:at]) and sum(devices[at:]) > 1 and not _same_sash(data, line[at - 1], line[at])
    ]
    before, after = pick(chance, cuts)
    _drop(data, _between(data, before, after))
    data["terminators"] += [before, after]
    piece = line[line.index(after) :]
    cables = [f"cables/{_between(data, a, b)}" for a, b in itertools.pairwise(piece)]
    abouts = [_section(data, node) for node in piece]
    return one(abouts, [*abouts, *cables])


def _same_sash(data: Data, one_end: str, other: str) -> bool:
    both = [data["actuators"].get(node, {}).get("opening") for node in (one_end, other)]
    return both[0] is not None and both[0] == both[1]


@plants("bus-in-pieces")
def left_off(data: Data, chance: random.Random) -> Planted:
    """The last sensor has no bus any more; the one before it is the end."""
    _, line = _without_stub(data, chance)
    _drop(data, _between(data, line[-2], line[-1]))
    data["terminators"][data["terminators"].index(line[-1])] = line[-2]
    return one(_section(data, line[-1]))


@plants("controllers-share-a-bus")
def two_masters(data: Data, chance: random.Random) -> Planted:
    """The end of one bus is led to the controller of another; the resistors there are taken out."""
    controller, line = _without_stub(data, chance)
    other = pick(chance, (c for c in data["controllers"] if c != controller and len(neighbours(data, "bus")[c]) == 1))
    _add(data, line[-1], other, 30, "bus", "common")
    data["terminators"].remove(line[-1])
    data["terminators"].remove(other)
    both = [f"controllers/{controller}", f"controllers/{other}"]
    return one(both, [*both, "cables/K-added"], {"bus-overloaded", "bus-without-common"})


def _bus(controller: str, line: str | None) -> str:
    """Name a bus: by its controller, and by its line where that is not the first."""
    return f"controllers/{controller}" + (f"/{line}" if line not in (None, "1") else "")


def _bus_of(data: Data, node: str) -> str:
    """Name the bus of a device: follow it to the controller, and no further."""
    met, nodes = neighbours(data, "bus"), [node]
    for here in nodes:
        for cable, other in met[here]:
            if other in data["controllers"]:
                return _bus(other, data["cables"][cable].get("line"))
            if other not in nodes:
                nodes.append(other)
    raise AssertionError(f"{node} is on no bus")


@plants("terminator-missing")
def open_end(data: Data, chance: random.Random) -> Planted:
    node = pick(chance, data["terminators"])
    data["terminators"].remove(node)
    lines = {own.get("line") for own in carrying(data, "bus").values() if node in (own["from"], own["to"])}
    if node in data["controllers"]:  # the end of each of its lines
        return Planted(tuple((frozenset([_bus(node, name)]), frozenset([_section(data, node)])) for name in lines))
    return one(_bus_of(data, node), _section(data, node))


@just_avoids("terminator-missing")
def resistor_built_in(data: Data, chance: random.Random) -> Planted:
    controller = _of_one_line(data, chance)
    data["controllers"][controller]["bus_end_resistor"] = "built-in"
    data["terminators"].remove(controller)
    return NOTHING


@plants("terminator-misplaced")
def resistor_built_in_mid_line(data: Data, chance: random.Random) -> Planted:
    """The bus goes on behind the controller, to a second sensor line; what is built in cannot be taken to its end."""
    controller, line = _without_stub(data, chance)
    _drop(data, _between(data, line[-2], line[-1]))
    _add(data, controller, line[-1], 12, "bus", "common")
    data["controllers"][controller]["bus_end_resistor"] = "built-in"
    data["terminators"].remove(controller)
    data["terminators"].append(line[-2])
    return one(f"controllers/{controller}", (f"controllers/{controller}", "terminators"))


@plants("terminator-misplaced")
def two_resistors_at_one_end(data: Data, chance: random.Random) -> Planted:
    """A third resistor loads the drivers wherever it is."""
    node = pick(chance, (n for n in data["terminators"] if n not in data["controllers"]))
    data["terminators"].append(node)
    return one(_bus_of(data, node), "terminators")


@plants("terminator-misplaced")
def resistor_on_no_bus(data: Data, chance: random.Random) -> Planted:
    """Once or twice: it is one thing, and one finding."""
    supply = pick(chance, data["supplies"])
    data["terminators"] += [supply] * chance.choice([1, 2])
    return one(f"supplies/{supply}", "terminators")


@plants("terminator-misplaced")
def resistor_in_mid_line(data: Data, chance: random.Random) -> Planted:
    met = neighbours(data, "bus")
    node = pick(
        chance,
        (
            n
            for n in met
            if len(met[n]) == 2 and n in {*data["actuators"], *data["sensors"]} and n not in data["terminators"]
        ),
    )
    data["terminators"].insert(chance.randint(0, len(data["terminators"])), node)
    return one(_bus_of(data, node), "terminators")


def _length(data: Data, chance: random.Random, part: float) -> str:
    controller, _ = _without_stub(data, chance)
    length_m = sum(data["cables"][cable]["length_m"] for cable in reached(data, "bus", controller)[1])
    _bear(data, controller, length_m=round(part * length_m, 2))
    return controller


def _bear(data: Data, controller: str, **changes: float) -> None:
    own_part(data, controller, "bus", **changes)


@plants("bus-too-long")
def long_line(data: Data, chance: random.Random) -> Planted:
    return one(f"controllers/{_length(data, chance, 0.99)}")


@just_avoids("bus-too-long")
def just_short_enough(data: Data, chance: random.Random) -> Planted:
    _length(data, chance, 1)
    return NOTHING


def _of_one_line(data: Data, chance: random.Random) -> str:
    met = neighbours(data, "bus")
    return pick(chance, (c for c in data["controllers"] if len(met[c]) == 1))


def _loads(data: Data, chance: random.Random, over: float) -> str:
    controller = _of_one_line(data, chance)
    loads = 0.0
    for node in reached(data, "bus", controller)[0]:
        section = next(s for s in ("controllers", "actuators", "sensors", "junctions") if node in data.get(s, {}))
        loads += fields(data, section, node)["bus_unit_load"] if section != "junctions" else 0
    _bear(data, controller, unit_loads=loads + over)
    return controller


@plants("bus-overloaded")
def too_many_receivers(data: Data, chance: random.Random) -> Planted:
    return one(f"controllers/{_loads(data, chance, -0.25)}")


@just_avoids("bus-overloaded")
def as_many_receivers_as_it_drives(data: Data, chance: random.Random) -> Planted:
    _loads(data, chance, 0)
    return NOTHING


@plants("bus-without-common")
def two_zeros(data: Data, chance: random.Random) -> Planted:
    """The common conductor is left out; any bus cable that joins the parts is the place, all the way through boxes."""
    joined = [cable for cable, own in carrying(data, "bus").items() if "common" in own["carries"]]
    controller = controller_on(data, data["cables"][pick(chance, joined)]["from"])
    places = [cable for cable in joined if controller_on(data, data["cables"][cable]["from"]) == controller]
    for cable in places:
        own = data["cables"][cable]
        own["carries"] = [what for what in own["carries"] if what != "common"]
    return one(f"controllers/{controller}", [f"cables/{cable}" for cable in places])


@plants("bus-resistance-off", state="as-commissioned")
def measured_off(data: Data, chance: random.Random, ohms: tuple[float, ...] = (118, 72, 48, 40)) -> Planted:
    """Two resistors of 120 Ω are 60 Ω; a third makes 40, one alone 120."""
    controller = _of_one_line(data, chance)
    data["record"]["buses"][controller]["bus_ohm"] = chance.choice(ohms)
    return one(f"controllers/{controller}", f"record/buses/{controller}")


@just_avoids("bus-resistance-off", state="as-commissioned")
def measured_well(data: Data, chance: random.Random) -> Planted:
    measured_off(data, chance, (55, 60, 66))
    return NOTHING
