"""Predicted settings against a restore done on plain dictionaries; steps applied one by one."""

from copy import deepcopy
from pathlib import Path

import networkx as nx
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from plans import plan
from strategies import edited, rearranged, sites

from zonecfg.document.places import Places
from zonecfg.document.reader import Document
from zonecfg.rollback.predict import predict
from zonecfg.rollback.settings import Coverage, limits_of_groups, settings_of
from zonecfg.rollback.steps import steps_between
from zonecfg.rollback.targets import Copy, mended_settings
from zonecfg.workflow.load import Loader

SETTINGS = ("groups", "links", "wet_weather", "strong_wind")


def site_of(data):
    document = Document("site.yaml", data, Places(data), ())
    return Loader().state_of(document, Path("site.yaml")).site


def copy_of(data):
    """What a controller would save of a plant: serials, openings and all settings."""
    return {
        "format": data["format"],
        "state": "saved",
        "site": data["site"],
        "actuators": {
            key: {name: fields[name] for name in ("serial", "opening") if name in fields}
            for key, fields in data.get("actuators", {}).items()
        },
        "sensors": {
            key: {"serial": fields["serial"]} if "serial" in fields else {}
            for key, fields in data.get("sensors", {}).items()
        },
        **{section: deepcopy(data[section]) for section in SETTINGS if section in data},
        "saved": {"controllers": {key: {} for key in data.get("controllers", {})}, "date": "2026-05-14"},
    }


def keeping(data, kept):
    """The same plant, whose controllers keep these settings in a copy; groups always know their controller."""
    data = deepcopy(data)
    for fields in data.get("controllers", {}).values():
        fields["saved_copy_keeps"] = list(kept)
    names = list(data.get("controllers", {}))
    if len(names) > 1:
        for fields in data.get("groups", {}).values():
            fields.setdefault("controller", names[0])
    return data


def restored_by_hand(now, then, kept):
    """Go through the copy on plain dictionaries: by serial, by id only where one side has no serial."""

    def whereabouts(section):
        here = now.get(section, {})
        places = {}
        for key, fields in then.get(section, {}).items():
            serial = fields.get("serial")
            same = [k for k, f in here.items() if serial is not None and f.get("serial") == serial]
            if same:
                places[key] = same[-1]
            elif key in here and (serial is None or "serial" not in here[key]):
                places[key] = key
        return places

    actuators, sensors = whereabouts("actuators"), whereabouts("sensors")
    groups = {
        group: {actuators[m] for m in fields.get("actuators", []) if m in actuators}
        for group, fields in then.get("groups", {}).items()
    }
    links = {(sensors[s], g) for s, gs in then.get("links", {}).items() for g in gs if s in sensors and g in groups}
    return {
        "groups": groups,
        "links": links if "links" in kept else set(),
        "wet_weather": then.get("wet_weather", {}) if "wet_weather" in kept else {},
        "strong_wind": then.get("strong_wind", {}) if "strong_wind" in kept else {},
    }


def unlike(data):
    """Whether no serial stands twice in a section, so that a serial names one thing."""
    return all(
        len(serials) == len(set(serials))
        for section in ("actuators", "sensors")
        for serials in [[f["serial"] for f in data.get(section, {}).values() if "serial" in f]]
    )


@given(sites(), st.data(), st.sets(st.sampled_from(("links", "wet_weather", "strong_wind"))))
def test_restore_against_plain_dictionaries(then, data, more):
    kept = ("groups", *sorted(more))
    then = keeping(then, kept)
    now = keeping(data.draw(edited(then)), kept)
    assume(unlike(then) and unlike(now))
    assume(now.get("controllers", {}).keys() == then.get("controllers", {}).keys() and now.get("controllers"))
    copy = copy_of(then)
    found = predict(site_of(now), site_of(copy), "the copy").settings
    expected = restored_by_hand(now, copy, kept)
    assert {g: set(m) for g, m in found.members.items()} == expected["groups"]
    said = {g: {k: v for k, v in fields.items() if k != "actuators"} for g, fields in copy.get("groups", {}).items()}
    assert {g: dict(about) for g, about in found.about.items()} == said
    assert set(found.links) == expected["links"]
    assert dict(found.wet_weather) == {g: a for g, a in expected["wet_weather"].items() if g in found.members}
    assert dict(found.strong_wind) == {g: a for g, a in expected["strong_wind"].items() if g in found.members}


@given(sites(), st.data(), st.sets(st.sampled_from(("links", "wet_weather", "strong_wind"))))
def test_what_is_mended_against_plain_dictionaries(then, data, more):
    """A new serial takes its predecessor's place; what a copy did not keep stands as now, else as in the design."""
    kept = ("groups", *sorted(more))
    then = keeping(then, kept)
    now, planned = keeping(data.draw(edited(then)), kept), data.draw(edited(then))
    assume(unlike(then) and unlike(now))
    assume(now.get("controllers", {}).keys() == then.get("controllers", {}).keys() and now.get("controllers"))
    copy, site = copy_of(then), site_of(now)
    design = data.draw(st.sampled_from((None, Copy("the plan", site_of(planned)))))
    found = mended_settings(site, predict(site, site_of(copy), "the copy"), design)
    expected = restored_by_hand(now, copy, kept)
    grouped = set().union(*expected["groups"].values())
    for group, fields in copy.get("groups", {}).items():
        for actuator in set(fields.get("actuators", [])) & now.get("actuators", {}).keys() - grouped:
            was, is_ = (side["actuators"].get(actuator, {}).get("serial") for side in (copy, now))
            if was is not None and is_ is not None and was != is_:
                expected["groups"][group].add(actuator)
    for group in expected["groups"]:
        for source in (now, planned if design else {}):
            if group not in source.get("groups", {}):
                continue
            if not any(g == group for _, g in expected["links"]):
                linked = [s for s, groups in source.get("links", {}).items() if group in groups]
                expected["links"] = expected["links"] | {(s, group) for s in linked if s in now.get("sensors", {})}
            for section in ("wet_weather", "strong_wind"):
                if group in source.get(section, {}):
                    expected[section] = {group: source[section][group], **expected[section]}
    assert {g: set(m) for g, m in found.members.items()} == expected["groups"]
    assert set(found.links) == expected["links"]
    for section in ("wet_weather", "strong_wind"):
        wanted = {g: action for g, action in expected[section].items() if g in expected["groups"]}
        assert dict(getattr(found, section)) == wanted


@pytest.mark.parametrize("order", [("C-1", "C-2"), ("C-2", "C-1")])
def test_a_group_that_went_to_another_controller_comes_back_whichever_is_restored_first(order):
    """By hand: each controller's memory is emptied and filled from the copy, and none touches the other's."""

    def held_by(controller, **more):
        groups = {"G": {"controller": "C-1", "actuators": []}, "hall": {"controller": controller, "actuators": ["A-1"]}}
        return plan(controllers={name: {"type": "hall", "saved_copy_keeps": ["groups"]} for name in order},
                    groups=groups) | more  # fmt: skip

    copy = held_by("C-1", state="saved", saved={"controllers": {name: {} for name in order}})
    found = predict(site_of(held_by("C-2")), site_of(copy), "the copy").settings
    assert found.members == {"G": (), "hall": ("A-1",)}
    assert found.about["hall"] == {"controller": "C-1"}


@given(sites())
def test_a_copy_of_the_present_that_keeps_everything_changes_nothing(data):
    data = keeping(data, SETTINGS)
    assume(data.get("controllers") and unlike(data))
    site = site_of(data)
    before, after = settings_of(site), predict(site, site_of(copy_of(data)), "the copy").settings
    assert {g: set(m) for g, m in after.members.items()} == {g: set(m) for g, m in before.members.items()}
    assert after.links == before.links
    assert after.wet_weather == before.wet_weather
    assert after.strong_wind == before.strong_wind


def applied(site, now, steps):
    """Carry steps out one by one on plain settings, as a person at the panel would."""
    members = {g: list(m) for g, m in now.members.items()}
    links, wet, wind = set(now.links), set(now.wet_weather), set(now.strong_wind)
    for step in steps:
        if step.do == "make-group":
            members[step.group] = []
        elif step.do in {"move", "park", "put-in"}:
            members = {g: [a for a in m if a not in step.actuators] for g, m in members.items()}
            if step.do != "park":
                members[step.group] += step.actuators
        elif step.do == "link":
            links.add((step.sensor, step.group))
        elif step.do == "unlink":
            links.discard((step.sensor, step.group))
        elif step.do == "set-wet-action":
            wet.add(step.group)
        elif step.do == "clear-wet-action":
            wet.discard(step.group)
        elif step.do == "set-wind-action":
            wind.add(step.group)
        elif step.do == "clear-wind-action":
            wind.discard(step.group)
        elif step.do == "empty-group":
            del members[step.group]
        yield step, members, links, wet


def belongs(data):
    """The controller a thing belongs to whatever the settings: the one it names, else the only one on its bus."""
    bus = nx.Graph()
    for fields in data.get("cables", {}).values():
        if "bus" in fields["carries"]:
            line = fields.get("line", "1")
            bus.add_edge(*((end, line if end in data["controllers"] else "") for end in (fields["from"], fields["to"])))
    found = {}
    for part in nx.connected_components(bus):
        there = {end for end, _ in part} & data["controllers"].keys()
        found |= {end: next(iter(there)) for end, _ in part if len(there) == 1}
    for section in ("actuators", "sensors"):
        found |= {key: f["controller"] for key, f in data.get(section, {}).items() if "controller" in f}
    return found


def members_before(now, moves):
    """Where everybody is after some moves."""
    members = {g: list(m) for g, m in now.members.items()}
    for move in moves:
        members = {g: [a for a in m if a not in move.actuators] for g, m in members.items()}
        if move.do != "park":
            members.setdefault(move.group, []).extend(move.actuators)
    return members


@given(sites(), st.data())
def test_steps_reach_the_target_and_no_prefix_breaks_a_limit(then, data):
    now = data.draw(edited(then) | rearranged(then))
    if data.draw(st.booleans()):
        now, then = then, now
    now = deepcopy(now)
    if data.draw(st.booleans()):  # groups that are as large as they may be
        most = max(len(fields["actuators"]) for fields in (then.get("groups") or {"": {"actuators": ""}}).values())
        for fields in now.get("controllers", {}).values():
            fields["limits"] = {"actuators_per_group": max(most, 1)}
    site, goal = site_of(now), settings_of(site_of(then))
    stands = settings_of(site)
    on_site = {g: tuple(a for a in m if a in site.actuators) for g, m in goal.members.items()}
    target = type(goal)(
        members=on_site,
        links=frozenset((s, g) for s, g in goal.links if s in site.sensors),
        wet_weather=goal.wet_weather,
        strong_wind=goal.strong_wind,
        about=goal.about,
    )
    homes = [a for m in target.members.values() for a in m]
    assume(len(homes) == len(set(homes)))
    limits = limits_of_groups(site, target)
    assume(all(len(target.members[g]) <= limit for g, limit in limits.items() if g in target.members))
    plan = steps_between(site, stands, target)
    linked_bare = {(s, g) for s, g in stands.links if g not in stands.wet_weather}
    wanted_bare = {(s, g) for s, g in target.links if g not in target.wet_weather}
    members, links, wet = stands.members, stands.links, set(stands.wet_weather)
    rain = {s.id for s in site.sensors.values() if s.measures == "rain"}
    moves = []
    home = {g: about.get("controller") for g, about in {**target.about, **stands.about}.items()}
    whose = belongs(now) if len(site.controllers) > 1 else {}
    sharing = {c.id for c in site.controllers.values() if c.shares_sensors}

    def agree(thing, group, *, sharing=frozenset()):
        both = whose.get(thing), home.get(group)
        return None in both or len(set(both)) == 1 or set(both) <= sharing

    for step, members, links, wet in applied(site, stands, plan.steps):
        named = [*step.actuators, step.sensor, step.group]
        assert all(name in step.text for name in named if name is not None)
        if step.actuators:
            before = members_before(stands, moves)
            assert step.actuator in step.actuators
            held = {g for g, m in before.items() if set(m) & set(step.actuators)}
            if step.do == "park":
                assert step.group in held
            else:
                assert (step.from_group in held) if step.do == "move" else (step.from_group is None and not held)
            moves.append(step)
        exposed = Coverage(site).exposed
        closed = {g for s, g in links if s in rain and g in wet and agree(s, g, sharing=sharing)}
        covered = {a for g in closed for a in members.get(g, ()) if agree(a, g)}
        assert step.uncovered == len(exposed - covered)
        for group, limit in limits.items():
            assert len(members.get(group, ())) <= max(limit, len(stands.members.get(group, ())))
        bare = {(s, g) for s, g in links if g not in wet}
        assert bare <= linked_bare | wanted_bare
    assert {g: set(m) for g, m in members.items()} == {g: set(m) for g, m in target.members.items()}
    assert set(links) == set(target.links)
    assert set(wet) == set(target.wet_weather)
    sums = [step.uncovered for step in plan.steps if step.do in {"move", "park", "put-in"}]
    assert plan.search.sum_over_moves == sum(sums)
    assert plan.search.lower_bound <= sum(sums)
    assert plan.search.moving_sashes == len({step.actuators for step in moves})
