"""Predicted settings against a restore done on plain dictionaries; steps applied one by one."""

from copy import deepcopy
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from plans import plan
from strategies import edited, rearranged, sites

from zonecfg.document.places import Places
from zonecfg.document.reader import Document
from zonecfg.errors import NoOrder
from zonecfg.rollback.by_place import by_place
from zonecfg.rollback.predict import predict
from zonecfg.rollback.settings import settings_of
from zonecfg.rollback.steps import steps_between
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


@given(sites(), st.randoms(use_true_random=False))
def test_by_place_the_same_windows_move_together_whatever_is_fitted_to_them(data, chance):
    """Serials are dealt anew among all actuators, and a window is added: by place nothing differs from the copy."""
    data = keeping(data, SETTINGS)
    assume(data.get("controllers") and unlike(data) and data.get("actuators"))
    copy = copy_of(data)
    now = deepcopy(data)
    having = [fields for fields in now["actuators"].values() if "serial" in fields]
    dealt = chance.sample([fields["serial"] for fields in having], len(having))
    for fields, serial in zip(having, dealt, strict=True):
        fields["serial"] = serial
    before, after = settings_of(site_of(data)), by_place(site_of(now), [site_of(copy)])
    split = {
        a
        for actuators in site_of(data).actuators_of.values()
        if len({tuple(sorted(g for g, m in before.members.items() if a in m)) for a in actuators}) > 1
        for a in actuators
    }
    for group, members in before.members.items():
        assert set(after.members[group]) - split == set(members) - split
    assert after.links == before.links
    assert after.wet_weather == before.wet_weather
    assert after.strong_wind == before.strong_wind


@given(sites(), st.data())
def test_by_place_nobody_who_was_added_since_is_thrown_out(then, data):
    then = keeping(then, SETTINGS)
    now = keeping(data.draw(edited(then)), SETTINGS)
    assume(unlike(then) and unlike(now) and now.get("controllers"))
    assume(now["controllers"].keys() == then.get("controllers", {}).keys())
    site, copy = site_of(now), site_of(copy_of(then))
    after, stands = by_place(site, [copy]), settings_of(site)
    grouped = {a for members in after.members.values() for a in members}
    new = {
        a.id
        for a in site.actuators.values()
        if a.id not in copy.actuators
        and a.opening not in copy.actuators_of
        and (a.serial is None or a.serial not in {b.serial for b in copy.actuators.values()})
    }
    for members in stands.members.values():
        assert new & set(members) <= grouped


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


MINUTES = {
    "move": 2.0,
    "park": 1.0,
    "put-in": 1.0,
    "link": 1.0,
    "unlink": 1.0,
    "make-group": 2.0,
    "set-wet-action": 2.0,
}


class Panel:
    """Carries steps out one by one on plain dictionaries, as a person at the panels would, by controller and name."""

    def __init__(self, settings, only):
        self.only = only
        named = {g: settings.about.get(g, {}).get("controller") or only for g in settings.members}
        self.groups = {
            (named[g], g): {"actuators": set(m), "about": dict(settings.about.get(g, {}))}
            for g, m in settings.members.items()
        }
        self.links = {(s, named[g], g) for s, g in settings.links}
        self.wet = {(named[g], g): dict(a) for g, a in settings.wet_weather.items()}
        self.wind = {(named[g], g): dict(a) for g, a in settings.strong_wind.items()}

    def plain(self):
        return (
            {
                key: (frozenset(held["actuators"]), tuple(sorted(held["about"].items())))
                for key, held in self.groups.items()
            },
            frozenset(self.links),
            {key: tuple(sorted(action.items())) for key, action in self.wet.items()},
            {key: tuple(sorted(action.items())) for key, action in self.wind.items()},
        )

    def do(self, step):
        key = (step.controller, step.group)
        if step.do == "make-group":
            assert key not in self.groups
            self.groups[key] = {"actuators": set(), "about": step.about}
        elif step.do == "name-group":
            self.groups[key]["about"] = step.about
        elif step.do in {"move", "park", "put-in"}:
            who = set(step.actuators)
            source = step.from_group if step.do == "move" else step.group if step.do == "park" else None
            if source is not None:
                held = [g for g in self.groups.items() if g[0][1] == source and who <= g[1]["actuators"]]
                assert held
                held[0][1]["actuators"] -= who
            if step.do != "park":
                self.groups[key]["actuators"] |= who
        elif step.do in {"link", "unlink"}:
            (self.links.add if step.do == "link" else self.links.discard)((step.sensor, *key))
        elif step.do in {"set-wet-action", "clear-wet-action"}:
            (self.wet.update({key: step.action}) if step.do.startswith("set") else self.wet.pop(key))
        elif step.do in {"set-wind-action", "clear-wind-action"}:
            (self.wind.update({key: step.action}) if step.do.startswith("set") else self.wind.pop(key))
        elif step.do == "empty-group":
            assert not self.groups.pop(key)["actuators"]


def limit_of(site, controller, name):
    limits = site.controllers[controller].limits if controller in site.controllers else None
    return None if limits is None else getattr(limits, name)


@given(sites(), st.data())
def test_steps_lead_to_what_is_predicted_and_no_step_breaks_a_limit(then, data):
    """On plain dictionaries of two controllers' panels, from what stands to the target, group for group."""
    now = deepcopy(data.draw(edited(then) | rearranged(then)))
    if data.draw(st.booleans()):
        now, then = deepcopy(then), now
    if data.draw(st.booleans()):  # groups that are as large as they may be
        most = max(len(fields["actuators"]) for fields in (then.get("groups") or {"": {"actuators": ""}}).values())
        for fields in now.get("controllers", {}).values():
            fields["limits"] = {"actuators_per_group": max(most, 1)}
    site, goal = site_of(now), settings_of(site_of(then))
    stands = settings_of(site)
    only = next(iter(site.controllers)) if len(site.controllers) == 1 else None
    target = type(goal)(
        members={g: tuple(a for a in m if a in site.actuators) for g, m in goal.members.items()},
        links=frozenset((s, g) for s, g in goal.links if s in site.sensors),
        wet_weather=goal.wet_weather,
        strong_wind=goal.strong_wind,
        about=goal.about,
    )
    homes = {g: about.get("controller") or only for g, about in {**stands.about, **target.about}.items()}
    assume(all(home is None or home in site.controllers for home in homes.values()))
    try:
        plan = steps_between(site, stands, target, MINUTES)
    except NoOrder:
        over = [
            g
            for g, m in target.members.items()
            if (most := limit_of(site, homes[g], "actuators_per_group")) is not None and len(m) > most
        ]
        assert over or any(limit_of(site, c, "groups") is not None for c in site.controllers)
        return
    panel, first = Panel(stands, only), Panel(stands, only)
    for step in plan.steps:
        panel.do(step)
        named = [*step.actuators, step.sensor, step.group]
        assert all(name in step.text for name in named if name is not None)
        for (home, group), held in panel.groups.items():
            most = limit_of(site, home, "actuators_per_group")
            stood = len(first.groups.get((home, group), {"actuators": ()})["actuators"])
            assert most is None or len(held["actuators"]) <= max(most, stood)
    assert panel.plain() == Panel(target, only).plain()
    moves = [step.uncovered for step in plan.steps if step.do in {"move", "park", "put-in"}]
    assert plan.search.sum_over_moves == sum(moves)
    assert plan.search.lower_bound <= sum(moves)
    assert plan.search.operations <= len(plan.steps)
