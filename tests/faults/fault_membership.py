"""Faults of who moves with whom."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from clean_sites import openings_of, split_room
from planting import (
    NOTHING,
    CannotPlant,
    Planted,
    actuators_on,
    each,
    fields,
    group_of,
    groups_on,
    just_avoids,
    links_of,
    mates,
    one,
    own_part,
    pairs,
    pick,
    plants,
    sensors_on,
    singles,
)
from sites import SIGNED

if TYPE_CHECKING:
    import random

Data = dict[str, Any]

MOVED_ALONG = frozenset({"group-spans-rooms", "left-open-in-rain", "wet-return-unattended", "closing-time-off"})
"""What may follow where an actuator comes to another group: that group's rooms, its action in rain, its closing time."""

GROUP_MAX = 10
"""Actuators that every controller here takes in a group."""


def _neighbour(data: Data, chance: random.Random, group: str, *, same_controller: bool = True) -> str:
    """Choose another group that has room for one more."""
    home = data["groups"][group]["controller"]
    return pick(
        chance,
        (
            other
            for other, own in data["groups"].items()
            if other != group and (own["controller"] == home) is same_controller and len(own["actuators"]) < GROUP_MAX
        ),
    )


def _insert(chance: random.Random, members: list[str], actuator: str) -> None:
    members.insert(chance.randint(0, len(members)), actuator)


@plants("actuator-in-several-groups")
def in_a_second_group(data: Data, chance: random.Random) -> Planted:
    actuator = pick(chance, data["actuators"])
    home = group_of(data, actuator)
    other = _neighbour(data, chance, home)
    _insert(chance, data["groups"][other]["actuators"], actuator)
    also = MOVED_ALONG | ({"sash-actuators-split"} if len(mates(data, actuator)) > 1 else set())
    return one(f"actuators/{actuator}", (f"groups/{home}", f"groups/{other}"), also)


@plants("actuator-without-group")
def in_no_group(data: Data, chance: random.Random) -> Planted:
    actuator = pick(chance, (a for a in data["actuators"] if len(data["groups"][group_of(data, a)]["actuators"]) > 1))
    data["groups"][group_of(data, actuator)]["actuators"].remove(actuator)
    also = {"closing-time-off"} | ({"sash-actuators-split"} if len(mates(data, actuator)) > 1 else set())
    _unless_spanning(data)
    return one(f"actuators/{actuator}", also=also)


def _unless_spanning(data: Data) -> None:
    """Refuse a site whose accepted group no longer spans two rooms."""
    for accepted in data.get("accepted", ()):
        group = accepted["at"].removeprefix("/groups/")
        if len({data["openings"][opening]["room"] for opening in openings_of(data, group)}) < 2:
            raise CannotPlant


@plants("actuator-repeated-in-group")
def twice_in_one_group(data: Data, chance: random.Random) -> Planted:
    group = pick(chance, (g for g, own in data["groups"].items() if len(own["actuators"]) < GROUP_MAX))
    members = data["groups"][group]["actuators"]
    actuator = pick(chance, members)
    _insert(chance, members, actuator)
    return one(f"actuators/{actuator}", f"groups/{group}")


@plants("group-empty")
def without_members(data: Data, chance: random.Random) -> Planted:
    data["groups"]["spare"] = {"controller": pick(chance, data["controllers"]), "actuators": []}
    if "record" in data:
        data["record"]["groups"]["spare"] = {"walk_test": "pass", **SIGNED}
    return one("groups/spare")


def _limit(data: Data, controller: str, name: str, largest: int, *, less: int) -> None:
    own_part(data, controller, "limits", **{name: largest - less})


def _group_sizes(data: Data, controller: str) -> dict[str, int]:
    return {group: len(data["groups"][group]["actuators"]) for group in groups_on(data, controller)}


@plants("group-over-limit")
def group_too_large(data: Data, chance: random.Random) -> Planted:
    controller = pick(chance, data["controllers"])
    sizes = _group_sizes(data, controller)
    largest = max(sizes.values())
    _limit(data, controller, "actuators_per_group", largest, less=1)
    return each(f"groups/{group}" for group, size in sizes.items() if size == largest)


@just_avoids("group-over-limit")
def group_at_its_limit(data: Data, chance: random.Random) -> Planted:
    controller = pick(chance, data["controllers"])
    _limit(data, controller, "actuators_per_group", max(_group_sizes(data, controller).values()), less=0)
    return NOTHING


def _register_counts() -> None:
    """Limits of a controller by the number of what it has: one fewer than there are, and exactly as many."""
    counts = {
        "too-many-actuators": ("actuators", actuators_on),
        "too-many-groups": ("groups", groups_on),
        "too-many-sensors": ("rain_sensors", sensors_on),
    }
    for check, (name, things) in counts.items():

        def plant(
            data: Data, chance: random.Random, *, less: int = 1, name: str = name, things: Any = things
        ) -> Planted:
            controller = pick(chance, data["controllers"])
            _limit(data, controller, name, len(things(data, controller)), less=less)
            return one(f"controllers/{controller}") if less else NOTHING

        plants(check)(plant)
        just_avoids(check)(lambda data, chance, plant=plant: plant(data, chance, less=0))


_register_counts()


@plants("sensor-over-limit")
def sensor_with_too_many_groups(data: Data, chance: random.Random, less: int = 1) -> Planted:
    controller = pick(chance, data["controllers"])
    sizes = {s: len(data["links"][s]) for measures in ("rain", "wind") for s in sensors_on(data, controller, measures)}
    largest = max(sizes.values())
    _limit(data, controller, "groups_per_sensor", largest, less=less)
    return each(
        (f"sensors/{s}" for s, size in sizes.items() if size > largest - less),
        lambda s: s.replace("sensors/", "links/"),
    )


@just_avoids("sensor-over-limit")
def sensor_at_its_limit(data: Data, chance: random.Random) -> Planted:
    return sensor_with_too_many_groups(data, chance, less=0)


@plants("group-spans-controllers")
def member_of_another_controller(data: Data, chance: random.Random) -> Planted:
    actuator = pick(chance, (a for a in singles(data) if len(data["groups"][group_of(data, a)]["actuators"]) > 1))
    home = group_of(data, actuator)
    other = _neighbour(data, chance, home, same_controller=False)
    data["groups"][home]["actuators"].remove(actuator)
    _unless_spanning(data)
    _insert(chance, data["groups"][other]["actuators"], actuator)
    return one(f"groups/{other}", also=MOVED_ALONG | {"smoke-vent-overruled"})


@plants("group-spans-rooms")
def group_in_two_rooms(data: Data, chance: random.Random) -> Planted:
    accepted = {own["at"] for own in data.get("accepted", ())}
    wide = (g for g in data["groups"] if len(openings_of(data, g)) > 1 and f"/groups/{g}" not in accepted)
    group = pick(chance, wide)
    split_room(data, group, "room-apart")
    return one(f"groups/{group}")


@plants("link-spans-controllers")
def link_to_another_controller(data: Data, chance: random.Random) -> Planted:
    sensor, linked = pick(chance, ((s, g) for s, g in links_of(data).items() if len(g) < 16))
    home = data["groups"][linked[0]]["controller"]
    group = pick(chance, (g for g, own in data["groups"].items() if own["controller"] != home))
    _insert(chance, linked, group)
    return one(f"links/{sensor}/{group}", f"links/{sensor}", {"closing-time-off"})


@just_avoids("link-spans-controllers")
def link_that_is_shared(data: Data, chance: random.Random) -> Planted:
    """Both controllers have to share: the one that hears the sensor and the one that holds the group."""
    link_to_another_controller(data, chance)
    for controller in data["controllers"].values():
        controller["shares_sensors"] = True
    return Planted((), frozenset({"closing-time-off"}))


@plants("opening-without-actuator")
def opening_nobody_moves(data: Data, chance: random.Random) -> Planted:
    like = pick(chance, data["openings"].values())
    data["openings"]["W-spare"] = {
        k: v for k, v in like.items() if k not in ("smoke_vent", "smoke_stroke_mm", "escape")
    }
    return one("openings/W-spare")


@plants("sash-actuators-split")
def sash_in_two_groups(data: Data, chance: random.Random) -> Planted:
    two = pick(chance, pairs(data))
    actuator = pick(chance, two)
    home = group_of(data, actuator)
    other = _neighbour(data, chance, home)
    data["groups"][home]["actuators"].remove(actuator)
    _insert(chance, data["groups"][other]["actuators"], actuator)
    opening = data["actuators"][actuator]["opening"]
    return one(f"openings/{opening}", [f"openings/{opening}", *(f"actuators/{a}" for a in two)], MOVED_ALONG)


@plants("sash-actuators-unlike")
def other_stroke(data: Data, chance: random.Random) -> Planted:
    two = pick(chance, pairs(data))
    actuator = pick(chance, two)
    data["actuators"][actuator]["stroke_mm"] -= chance.choice([0.5, 2, 5])
    return _unlike(data, two)


@plants("sash-actuators-unlike")
def other_type(data: Data, chance: random.Random) -> Planted:
    two = pick(chance, pairs(data))
    own = data["actuators"][pick(chance, two)]
    data["types"]["actuators"]["chain-twin"] = {**data["types"]["actuators"][own["type"]]}
    own["type"] = "chain-twin"
    return _unlike(data, two)


def _unlike(data: Data, two: tuple[str, str]) -> Planted:
    opening = data["actuators"][two[0]]["opening"]
    return one(f"openings/{opening}", [f"openings/{opening}", *(f"actuators/{a}" for a in two)])


@plants("sash-actuators-unsynchronised")
def out_of_step(data: Data, chance: random.Random) -> Planted:
    two = pick(chance, pairs(data))
    opening = data["actuators"][two[0]]["opening"]
    if fields(data, "actuators", two[0])["sync"] == "bus":
        for actuator in two:
            data["actuators"][actuator]["sync"] = "none"
    else:
        for cable in data["cables"].values():
            if {cable["from"], cable["to"]} == set(two):
                cable["carries"] = [what for what in cable["carries"] if what != "sync"]
    return one(f"openings/{opening}", [f"openings/{opening}", *(f"actuators/{a}" for a in two)])


@plants("serial-repeated")
def one_serial_on_two_labels(data: Data, chance: random.Random) -> Planted:
    """Makers count actuators and sensors each for themselves: one number on one of each is no fault."""
    section = chance.choice(["actuators", "sensors"])
    thing, other = chance.sample(list(data[section]), 2)
    data[section][other]["serial"] = data[section][thing]["serial"]
    if "record" in data and section == "actuators":
        data["record"]["actuators"][other]["serial"] = data[section][thing]["serial"]
    both = (f"{section}/{thing}", f"{section}/{other}")
    return one(both, both)
