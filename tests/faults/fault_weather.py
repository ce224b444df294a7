"""Faults of sensors and weather."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from clean_sites import openings_of, sash
from planting import NOTHING, CannotPlant, Planted, each, in_wall, just_avoids, links_of, one, pick, plants, unsheltered

if TYPE_CHECKING:
    import random
    from collections.abc import Iterator

Data = dict[str, Any]

RETIMED = frozenset({"closing-time-off"})
"""A sensor that acts on fewer groups, or on others, settles at another time than was recorded."""


def _unlink(data: Data, sensor: str, group: str) -> None:
    data["links"][sensor].remove(group)
    if not data["links"][sensor]:
        del data["links"][sensor]


def _not_the_only_one(data: Data, group: str) -> bool:
    """Whether every sensor that acts on a group acts on others too."""
    return all(len(groups) > 1 for groups in data["links"].values() if group in groups)


@plants("sensor-unlinked")
def acts_on_nothing(data: Data, chance: random.Random) -> Planted:
    sensor = pick(chance, data["sensors"])
    del data["links"][sensor]
    return one(f"sensors/{sensor}", also={"single-sensor", "wet-action-without-link"})


def _turn(data: Data, chance: random.Random, away_deg: float) -> str:
    """Turn a sensor away from the wall windows it acts on, all of which face one way."""

    def bearings(sensor: str) -> set[float]:
        openings = [opening for group in data["links"][sensor] for opening in openings_of(data, group)]
        return {data["openings"][o]["facade_deg"] for o in openings if sash(data, o).get("pitch_deg", 90) == 90}

    sensor = pick(chance, (s for s in links_of(data) if len(bearings(s)) == 1))
    turned = bearings(sensor).pop() + chance.choice([-1, 1]) * away_deg
    data["sensors"][sensor]["facade_deg"] = turned % 360
    return sensor


@plants("sensor-faces-away")
def behind_the_house(data: Data, chance: random.Random) -> Planted:
    return one(f"sensors/{_turn(data, chance, chance.choice([91, 135, 180]))}")


@just_avoids("sensor-faces-away")
def at_the_side(data: Data, chance: random.Random) -> Planted:
    _turn(data, chance, chance.choice([45, 89]))
    return NOTHING


@plants("group-without-rain-closing")
def never_closed_by_rain(data: Data, chance: random.Random) -> Planted:
    group = pick(chance, (g for g in data["groups"] if unsheltered(data, g) and _not_the_only_one(data, g)))
    for sensor in [s for s, groups in links_of(data).items() if group in groups]:
        _unlink(data, sensor, group)
    del data["wet_weather"][group]
    return one(f"groups/{group}", also=RETIMED)


@just_avoids("group-without-rain-closing")
def sheltered(data: Data, chance: random.Random) -> Planted:
    never_closed = never_closed_by_rain(data, chance)
    group = next(iter(never_closed.found[0][0])).removeprefix("groups/")
    for opening in openings_of(data, group):
        data["openings"][opening]["sheltered"] = True
    return Planted((), RETIMED)


@plants("link-without-wet-action")
def linked_for_nothing(data: Data, chance: random.Random) -> Planted:
    section, measures = chance.choice([("wet_weather", "rain"), ("strong_wind", "wind")])
    group = pick(chance, data.get(section, ()))
    del data[section][group]
    sensors = [s for s, groups in links_of(data, measures).items() if group in groups]
    return each((f"links/{s}/{group}" for s in sensors), lambda about: about.rpartition("/")[0], RETIMED)


@plants("wet-action-without-link")
def action_nobody_calls(data: Data, chance: random.Random) -> Planted:
    section, measures = chance.choice([("wet_weather", "rain"), ("strong_wind", "wind")])
    group = pick(chance, (g for g in data.get(section, ()) if _not_the_only_one(data, g)))
    for sensor in [s for s, groups in links_of(data, measures).items() if group in groups]:
        _unlink(data, sensor, group)
    return one(f"{section}/{group}", also=RETIMED)


@plants("left-open-in-rain")
def roof_left_open(data: Data, chance: random.Random) -> Planted:
    def lets_in(group: str) -> bool:
        return any(not in_wall(data, o) and not sash(data, o).get("sheltered") for o in openings_of(data, group))

    group = pick(chance, (g for g in data["groups"] if lets_in(g)))
    data["wet_weather"][group]["open_percent"] = chance.choice([1, 10, 40])
    return one(f"groups/{group}", f"wet_weather/{group}", RETIMED | {"group-without-rain-closing", "single-sensor"})


def _lean(data: Data, chance: random.Random, pitch_deg: float) -> str:
    """Lean one sash of a group that stays a little open back to a pitch."""
    choices = [
        g for g in data["groups"] if all(in_wall(data, o) for o in openings_of(data, g)) and unsheltered(data, g)
    ]
    group = pick(chance, choices)
    opening = pick(chance, (o for o in openings_of(data, group) if not sash(data, o).get("sheltered")))
    data["openings"][opening]["pitch_deg"] = pitch_deg
    data["wet_weather"][group]["open_percent"] = 10
    return group


@plants("left-open-in-rain")
def leaning_and_open(data: Data, chance: random.Random) -> Planted:
    group = _lean(data, chance, 59)
    return one(f"groups/{group}", f"wet_weather/{group}", RETIMED | {"group-without-rain-closing", "single-sensor"})


@just_avoids("left-open-in-rain")
def just_upright(data: Data, chance: random.Random) -> Planted:
    _lean(data, chance, 60)
    return Planted((), RETIMED)


@plants("wet-return-unattended")
def returns_at_once(data: Data, chance: random.Random) -> Planted:
    group = pick(chance, (g for g, own in data["wet_weather"].items() if own["when_dry"] == "return"))
    del data["wet_weather"][group]["dry_minutes"]
    return one(f"wet_weather/{group}")


def _return_at(data: Data, chance: random.Random, height_mm: float) -> str:
    """Let a group return by itself, and put one of its windows at a height above the ground outside."""

    def open_to_people(group: str) -> Iterator[str]:
        return (o for o in openings_of(data, group) if sash(data, o).get("screen") != "guard")

    def high(group: str) -> bool:
        return all(data["openings"][o]["drop_mm"] > 2000 for o in openings_of(data, group))

    group = pick(chance, (g for g in data["groups"] if high(g) and any(open_to_people(g))))
    opening = data["openings"][pick(chance, open_to_people(group))]
    if opening["sill_mm"] > 1100:
        raise CannotPlant
    opening["drop_mm"] = height_mm - opening["sill_mm"]
    data["wet_weather"][group] |= {"when_dry": "return", "dry_minutes": 20}
    return group


@plants("wet-return-unattended")
def returns_within_reach(data: Data, chance: random.Random) -> Planted:
    return one(f"wet_weather/{_return_at(data, chance, 1990)}")


@just_avoids("wet-return-unattended")
def returns_out_of_reach(data: Data, chance: random.Random) -> Planted:
    _return_at(data, chance, 2010)
    return NOTHING


@plants("single-sensor")
def one_sensor_left(data: Data, chance: random.Random) -> Planted:
    group = pick(chance, (g for g in data["groups"] if _not_the_only_one(data, g) and unsheltered(data, g)))
    sensors = [s for s, groups in links_of(data).items() if group in groups]
    left = pick(chance, sensors)
    for sensor in sensors:
        if sensor != left:
            _unlink(data, sensor, group)
    return one(f"sensors/{left}", also=RETIMED)


@plants("sensor-loss-unseen")
def silence_counts_as_dry(data: Data, chance: random.Random) -> Planted:
    sensor = pick(chance, data["sensors"])
    data["sensors"][sensor]["if_lost"] = "dry"
    return one(f"sensors/{sensor}")


@just_avoids("sensor-loss-unseen")
def silence_is_reported(data: Data, chance: random.Random) -> Planted:
    data["sensors"][pick(chance, data["sensors"])]["if_lost"] = chance.choice(["wet", "fault"])
    return NOTHING


@plants("smoke-vent-overruled")
def rain_before_fire(data: Data, chance: random.Random) -> Planted:
    controller = pick(chance, (c for c, own in data["controllers"].items() if own.get("fire_command_outranks")))
    if chance.random() < 0.5:
        data["controllers"][controller]["fire_command_outranks"] = False
    else:
        del data["controllers"][controller]["fire_command_outranks"]
    groups = [g for g, own in data["groups"].items() if own["controller"] == controller]
    vents = [o for g in groups for o in openings_of(data, g) if data["openings"][o].get("smoke_vent")]
    return each(f"openings/{vent}" for vent in vents)
