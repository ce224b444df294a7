"""What has to be tested again, against the same question asked of plain dictionaries."""

from copy import deepcopy

from hypothesis import assume, given
from hypothesis import strategies as st
from plans import plan, site_of
from strategies import edited, rearranged, sites

from zonecfg.compare.differences import differences
from zonecfg.rollback.retests import retests

SETTINGS = ("groups", "links", "wet_weather", "strong_wind")


def with_settings_of(data, other):
    """The same plant under the settings of another state of it, as far as it has the actuators and sensors for them."""
    then = {section: value for section, value in deepcopy(data).items() if section not in SETTINGS}
    then["groups"] = {
        group: {**fields, "actuators": [a for a in fields["actuators"] if a in data["actuators"]]}
        for group, fields in other.get("groups", {}).items()
    }
    then["links"] = {s: groups for s, groups in other.get("links", {}).items() if s in data.get("sensors", {})}
    for section in ("wet_weather", "strong_wind"):
        then[section] = other.get(section, {})
    return then


def homes(data):
    found = {}
    for group, fields in data.get("groups", {}).items():
        for actuator in fields["actuators"]:
            found.setdefault(actuator, set()).add(group)
    return found


def links(data):
    return {(sensor, group) for sensor, groups in data.get("links", {}).items() for group in groups}


def due(now, then):
    """Work out what is due by hand: whose record is another's, who moves otherwise, what acts on what is touched."""
    found, touched = set(), set()
    for actuator, fields in now["actuators"].items():
        recorded = now.get("record", {}).get("actuators", {}).get(actuator, {}).get("serial")
        if recorded and fields.get("serial") and recorded != fields["serial"]:
            found |= {(test, "actuators", actuator) for test in ("calibrate", "measure-gap", "walk-test")}
    was, stands = now.get("groups", {}), then["groups"]
    before, after = homes(now), homes(then)
    for actuator in now["actuators"]:
        old, new = before.get(actuator, set()), after.get(actuator, set())
        if old != new and (new or old & stands.keys()) and (old or new & was.keys()):  # not with its group as a whole
            found.add(("walk-test", "actuators", actuator))
            touched |= old | new
    for section in ("wet_weather", "strong_wind"):
        acts, will = now.get(section, {}), then.get(section, {})
        touched |= {group for group in acts.keys() | will.keys() if acts.get(group) != will.get(group)}
    plain = [{g: {k: v for k, v in f.items() if k != "actuators"} for g, f in side.items()} for side in (was, stands)]
    touched |= {group for group in was.keys() | stands.keys() if plain[0].get(group) != plain[1].get(group)}
    touched |= {group for _, group in links(now) ^ links(then)}
    found |= {("walk-test", "groups", group) for group in touched & stands.keys()}
    acted = links(now) | links(then)
    return found | {("wet-test", "sensors", sensor) for sensor, group in acted if group in touched}


def told(now, then):
    return [(r.test, r.section, r.id) for r in listed(now, then)]


def listed(now, then):
    before, after = site_of(now), site_of(then)
    return list(retests(before, after, differences(before, after)[0]))


@given(sites(), st.data())
def test_what_is_due_by_hand_and_each_thing_once(data, draw):
    now = draw.draw(edited(data))
    assume(now.get("actuators"))
    then = with_settings_of(now, draw.draw(edited(now) | rearranged(now)))
    was, stands = now.get("groups", {}).keys(), then["groups"].keys()
    assume(not (was - stands and stands - was))  # else a group may have got another name
    found = told(now, then)
    assert sorted(found) == sorted(due(now, then))


def test_a_replaced_actuator_that_also_goes_elsewhere_is_walked_once():
    """Its record is of the one it replaced, and it goes to another group: six things to do, none of them twice."""
    now = plan(
        actuators={"A-1": {"serial": "20"}},
        groups={"G": {"actuators": ["A-1"]}, "west": {"actuators": []}},
        sensors={"R-1": {"type": "plate"}, "R-2": {"type": "plate"}},
        links={"R-1": ["G"]},
        record={"actuators": {"A-1": {"serial": "10"}}},
    )
    then = deepcopy(now)
    then["groups"] = {"G": {"actuators": []}, "west": {"actuators": ["A-1"]}}
    assert sorted(told(now, then)) == [
        ("calibrate", "actuators", "A-1"),
        ("measure-gap", "actuators", "A-1"),
        ("walk-test", "actuators", "A-1"),
        ("walk-test", "groups", "G"),
        ("walk-test", "groups", "west"),
        ("wet-test", "sensors", "R-1"),
    ]
    assert {r.because for r in listed(now, then) if r.section == "actuators"} == {"its record is of 10"}


def test_why_each_thing_is_tested_again():
    """An actuator that moves, an action that changes, a link that is made: each group by the first that touches it."""
    now = plan(
        actuators={"A-1": {}},
        groups={"G": {"actuators": ["A-1"]}, "north": {"actuators": []}, "west": {"actuators": []}},
        sensors={"R-1": {"type": "plate"}, "R-2": {"type": "plate"}},
        links={"R-1": ["G", "north"]},
        wet_weather={"north": {"open_percent": 0}},
    )
    then = deepcopy(now)
    then["groups"] = {"G": {"actuators": []}, "north": {"actuators": []}, "west": {"actuators": ["A-1"]}}
    then["links"]["R-2"] = ["south"]
    then["groups"]["south"] = now["groups"]["south"] = {"actuators": []}
    then["wet_weather"]["north"] = {"open_percent": 5}
    because = {(r.test, r.id): r.because for r in listed(now, then)}
    assert because[("walk-test", "A-1")] == "A-1 moved from G to west"
    assert because[("walk-test", "G")] == because[("walk-test", "west")] == "A-1 moved from G to west"
    assert because[("walk-test", "south")] == "R-2 now acts on south"
    assert "open_percent" in because[("walk-test", "north")]
    assert because[("wet-test", "R-1")] == "it acts, or acted, on G and north"
    assert because[("wet-test", "R-2")] == "it acts, or acted, on south"
