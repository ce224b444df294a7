"""Faults of the record of commissioning, and of accepted findings."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from clean_sites import accept, openings_of, split_room
from planting import NOTHING, CannotPlant, Planted, groups_on, just_avoids, moved, one, pick, plants
from sites import settled_s

if TYPE_CHECKING:
    import random

Data = dict[str, Any]
BUILT = "as-commissioned"


def _recorded(section: str, thing: str) -> tuple[str, str]:
    """The places of what was recorded of a thing."""
    return f"record/{section}/{thing}", f"{section}/{thing}"


@plants("serial-missing", state=BUILT)
def label_not_read(data: Data, chance: random.Random) -> Planted:
    section = chance.choice(["actuators", "sensors"])
    thing = pick(chance, data[section])
    del data[section][thing]["serial"]
    return one(f"{section}/{thing}")


@plants("count-mismatch", state=BUILT)
def counted_otherwise(data: Data, chance: random.Random) -> Planted:
    controller = pick(chance, data["record"]["controllers"])
    data["record"]["controllers"][controller]["actuators_counted"] += chance.choice([-1, 1])
    return one(f"controllers/{controller}", _recorded("controllers", controller))


@plants("test-failed", state=BUILT)
def failed(data: Data, chance: random.Random) -> Planted:
    tests = [
        (section, thing, test)
        for section, things in data["record"].items()
        for thing, seen in things.items()
        for test in ("walk_test", "wet_test", "fire_test")
        if test in seen
    ]
    kind = chance.choice(
        [("actuators", "walk_test"), ("groups", "walk_test"), ("sensors", "wet_test"), ("controllers", "fire_test")]
    )
    section, thing, test = pick(chance, (each for each in tests if (each[0], each[2]) == kind))
    data["record"][section][thing][test] = "fail"
    return one(f"{section}/{thing}", _recorded(section, thing))


@plants("not-calibrated", state=BUILT)
def never_calibrated(data: Data, chance: random.Random) -> Planted:
    actuator = pick(chance, data["actuators"])
    if chance.random() < 0.5:
        data["record"]["actuators"][actuator]["calibrated"] = False
    else:
        del data["record"]["actuators"][actuator]["calibrated"]
    return one(f"actuators/{actuator}", _recorded("actuators", actuator))


@plants("walk-test-missing", state=BUILT)
def nobody_watched(data: Data, chance: random.Random) -> Planted:
    section = chance.choice(["actuators", "groups"])
    thing = pick(chance, data[section])
    del data["record"][section][thing]["walk_test"]
    return one(f"{section}/{thing}", _recorded(section, thing))


@plants("wet-test-missing", state=BUILT)
def never_wetted(data: Data, chance: random.Random) -> Planted:
    sensor = pick(chance, (s for s, own in data["record"]["sensors"].items() if "wet_test" in own))
    if chance.random() < 0.5:
        del data["record"]["sensors"][sensor]["wet_test"]
    else:
        del data["record"]["sensors"][sensor]
    return one(f"sensors/{sensor}", _recorded("sensors", sensor))


@plants("record-of-another-actuator", state=BUILT)
def replaced_since(data: Data, chance: random.Random) -> Planted:
    actuator = pick(chance, data["actuators"])
    data["actuators"][actuator]["serial"] = "79999999"
    return one(f"actuators/{actuator}", _recorded("actuators", actuator))


def _time(data: Data, chance: random.Random, late_s: float, early_s: float) -> str:
    """Later than 1.25 times the computed time and 10 s, or under half of it, by some seconds."""
    sensor = pick(chance, (s for s, own in data["record"]["sensors"].items() if "wet_test" in own))
    computed_s = settled_s(data, data["links"][sensor])
    times = (1.25 * computed_s + 10 + late_s, computed_s / 2 - early_s)
    data["record"]["sensors"][sensor]["settled_after_s"] = chance.choice(times)
    return sensor


@plants("closing-time-off", state=BUILT)
def settled_late_or_early(data: Data, chance: random.Random) -> Planted:
    sensor = _time(data, chance, 1, 1)
    return one(f"sensors/{sensor}", _recorded("sensors", sensor))


@just_avoids("closing-time-off", state=BUILT)
def settled_in_time(data: Data, chance: random.Random) -> Planted:
    _time(data, chance, -1, -1)
    return NOTHING


@plants("fire-test-missing", state=BUILT)
def fire_command_never_tried(data: Data, chance: random.Random) -> Planted:
    tested = [c for c, seen in data["record"]["controllers"].items() if "fire_test" in seen]
    controller = pick(chance, tested)
    assert any(data["openings"][o].get("smoke_vent") for g in groups_on(data, controller) for o in openings_of(data, g))
    del data["record"]["controllers"][controller]["fire_test"]
    return one(f"controllers/{controller}", _recorded("controllers", controller))


@plants("acceptance-unused")
def nothing_to_accept(data: Data, chance: random.Random) -> Planted:
    opening = pick(chance, data["openings"])
    accept(data, "hand-lock-fitted", f"/openings/{opening}", by="architect", until="2031-03-01")
    return one(f"accepted/hand-lock-fitted/openings/{opening}", "accepted")


@plants("acceptance-expired")
def over_since_yesterday(data: Data, chance: random.Random, until: str = "2026-10-31") -> Planted:
    """The study judges by 1 November 2026; an expired acceptance no longer accepts."""
    accepted = {own["at"] for own in data.get("accepted", ())}
    wide = (g for g in data["groups"] if len(openings_of(data, g)) > 1 and f"/groups/{g}" not in accepted)
    group = pick(chance, wide)
    split_room(data, group, "room-apart")
    accept(data, "group-spans-rooms", f"/groups/{group}", by="architect", until=until)
    return one(f"accepted/group-spans-rooms/groups/{group}", "accepted", {"group-spans-rooms"})


@just_avoids("acceptance-expired")
def last_day(data: Data, chance: random.Random) -> Planted:
    over_since_yesterday(data, chance, until="2026-11-01")
    return NOTHING


@plants("acceptance-unexplained")
def accepted_by_nobody(data: Data, chance: random.Random) -> Planted:
    opening = pick(chance, data["openings"])
    data["openings"][opening]["lock"] = "hand"
    more = chance.choice([{}, {"by": "architect"}, {"until": "2031-03-01"}])
    accept(data, "hand-lock-fitted", f"/openings/{opening}", **more)
    return one(f"accepted/hand-lock-fitted/openings/{opening}", "accepted")


@just_avoids("acceptance-unexplained")
def accepted_by_somebody(data: Data, chance: random.Random) -> Planted:
    opening = pick(chance, data["openings"])
    if data["openings"][opening].get("lock") == "hand":
        raise CannotPlant
    data["openings"][opening]["lock"] = "hand"
    accept(data, "hand-lock-fitted", f"/openings/{opening}", by="architect", until="2031-03-01")
    return NOTHING


@plants("wind-test-missing", state=BUILT)
def never_turned(data: Data, chance: random.Random) -> Planted:
    seen = data["record"]["sensors"]
    sensor = pick(chance, (s for s, own in seen.items() if "wind_test" in own))
    del seen[sensor]["wind_test"]
    return one(f"sensors/{sensor}", _recorded("sensors", sensor))


@plants("battery-test-missing", state=BUILT)
def mains_never_off(data: Data, chance: random.Random) -> Planted:
    supply = pick(chance, data["record"].get("supplies", ()))
    data["record"]["supplies"][supply] = {"voltage_v": 24.1, "date": "2026-05-14", "by": "installer"}
    return one(f"supplies/{supply}", _recorded("supplies", supply))


@plants("edge-test-missing", state=BUILT)
def edge_never_tried(data: Data, chance: random.Random) -> Planted:
    opening = pick(chance, (o for o, own in data["openings"].items() if moved(data, o)))
    data["openings"][opening]["protection"] = ["light-curtain"]
    data["record"].get("openings", {}).pop(opening, None)
    return one(f"openings/{opening}")


@plants("release-test-missing", state=BUILT)
def never_freed(data: Data, chance: random.Random) -> Planted:
    opening = pick(chance, (o for o, own in data["record"].get("openings", {}).items() if "release_test" in own))
    del data["record"]["openings"][opening]["release_test"]
    return one(f"openings/{opening}", _recorded("openings", opening))


@plants("serial-unverified", state=BUILT)
def label_never_read(data: Data, chance: random.Random) -> Planted:
    actuator = pick(chance, data["record"]["actuators"])
    del data["record"]["actuators"][actuator]["serial"]
    return one(f"actuators/{actuator}", _recorded("actuators", actuator))


@plants("test-unsigned", state=BUILT)
def nobody_signed(data: Data, chance: random.Random) -> Planted:
    part = chance.choice(("actuators", "groups", "sensors"))
    thing = pick(chance, data["record"][part])
    del data["record"][part][thing][chance.choice(("date", "by"))]
    return one(f"{part}/{thing}", _recorded(part, thing))


@just_avoids("test-unsigned", state=BUILT)
def signed_test_by_test(data: Data, chance: random.Random) -> Planted:
    """Each test has its own day and name; the whole has none."""
    thing = pick(chance, data["record"]["actuators"])
    fields = data["record"]["actuators"][thing]
    sign = {key: fields.pop(key) for key in ("date", "by")}
    data["record"]["actuators"][thing] = {
        key: value if key == "serial" else {"result" if key == "walk_test" else "value": value, **sign}
        for key, value in fields.items()
    }
    return NOTHING
