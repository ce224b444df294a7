"""Ways back on plants small enough to work out by hand."""

import json
import re
from copy import deepcopy
from datetime import date
from pathlib import Path

import pytest
from plans import plan, site_of

import zonecfg.rollback
from zonecfg.results.change import FigureMove, FindingsMoved
from zonecfg.rollback.predict import Restored, controllers_of_copy, fill, predict
from zonecfg.rollback.settings import Settings
from zonecfg.rollback.targets import Copy
from zonecfg.rollback.ways import Predicted, ways
from zonecfg.workflow.rollback import rollback

ROOT = Path(__file__).parents[2] / "examples" / "rollback"
MINUTES = json.loads(Path(zonecfg.rollback.__file__).with_name("minutes.json").read_text("utf-8"))
KEEPS_ALL = ["groups", "links", "wet_weather", "strong_wind"]


def plant(keeps=KEEPS_ALL, **sections):
    """Four windows, one actuator each, all in two groups that a rain sensor closes."""
    return plan(
        types_controllers={"hall": {"saved_copy_keeps": keeps, "copy_finds": "serial"}},
        openings={f"W-{n}": {"type": "sash", "room": "room", "sheltered": False} for n in range(1, 5)},
        controllers={"C-1": {"type": "hall", "serial": "300", "firmware": "2.4"}},
        actuators={f"A-{n}": {"type": "chain", "opening": f"W-{n}", "serial": f"10{n}"} for n in range(1, 5)},
        groups={"G": {"actuators": ["A-1", "A-2"]}, "H": {"actuators": ["A-3", "A-4"]}},
        sensors={"R-1": {"type": "plate", "serial": "200"}},
        links={"R-1": ["G", "H"]},
        wet_weather={"G": {"open_percent": 0}, "H": {"open_percent": 0}},
        **sections,
    )


def copied(now, **sections):
    """What a controller saved of it, with some sections put in the place of its own."""
    data = {name: now[name] for name in ("format", "site", "groups", "links", "wet_weather")}
    data["state"] = "saved"
    data["types"] = {}
    for section in ("actuators", "sensors"):
        data[section] = {
            key: {name: fields[name] for name in ("serial", "opening") if name in fields}
            for key, fields in now[section].items()
        }
    data["saved"] = {"controllers": {"C-1": {"serial": "300", "firmware": "2.4"}}, "date": "2026-05-14"}
    return site_of({**data, **sections})


def laid_out(now, *copies, design=None, judge=lambda site: Predicted(FindingsMoved(), (), ()), minutes=MINUTES):
    plan_ = Copy("the plan", site_of(design)) if design else None
    named = [Copy(f"copy {letter}", copy) for letter, copy in zip("abc", copies, strict=False)]
    found = ways(site_of(now), named, plan_, judge, minutes)
    by_name = {(way.way, way.target): way for way in found}
    assert len(by_name) == len(found)
    return by_name


def two_controllers(now):
    """The same plant with G on C-1 and H on C-2, and what each of the two saved."""
    now["controllers"]["C-2"] = {"type": "hall"}
    for group, controller in (("G", "C-1"), ("H", "C-2")):
        now["groups"][group] = {"controller": controller, **now["groups"][group]}
    return now, [
        copied(
            now,
            groups={group: now["groups"][group]},
            links={"R-1": [group]},
            wet_weather={group: now["wet_weather"][group]},
            saved={"controllers": {controller: {}}},
        )
        for group, controller in (("G", "C-1"), ("H", "C-2"))
    ]


@pytest.mark.parametrize("case", sorted(path.name for path in ROOT.iterdir()))
def test_minutes_and_exposure_are_those_of_the_steps(case):
    for way in rollback(ROOT / case / "now.yaml", [ROOT / case / "copy.yaml"], date(2026, 11, 25)).ways.ways:
        counts = [step.uncovered for step in way.steps]
        assert way.minutes == sum(MINUTES[s.do] for s in way.steps) + sum(MINUTES[r.test] for r in way.retest)
        assert way.exposure.sum_over_steps == sum(counts)
        assert way.exposure.at_worst == max([way.exposure.after, *counts])
        assert way.exposure.now == counts[0]


def test_windows_to_close_are_those_that_settings_change_for():
    """By hand A-2 alone moves; put back, both groups of the controller change hands, and with them every window."""
    now = plant()
    copy = copied(now, groups={"G": {"actuators": ["A-1"]}, "H": {"actuators": ["A-3", "A-4", "A-2"]}})
    for way in laid_out(now, copy).values():
        assert closed(way) == {"keep": set(), "by-hand": {"W-2"}}.get(way.way, {"W-1", "W-2", "W-3", "W-4"})
    now, copies = two_controllers(plant())
    found = laid_out(now, *copies)
    assert closed(found["restore", "copy a"]) == {"W-1", "W-2"}
    assert closed(found["restore", "copy b"]) == {"W-3", "W-4"}
    assert closed(found["restore", "copy a and copy b"]) == {"W-1", "W-2", "W-3", "W-4"}


def closed(way):
    """Windows that a step of the way says to close."""
    return {name for step in way.steps if step.do == "close" for name in re.findall(r"W-\d", step.text)}


def test_many_windows_to_close_are_counted_and_none_known_are_the_windows():
    now = plant()
    now["openings"] = {f"W-{n}": now["openings"]["W-1"] for n in range(10, 20)}
    now["actuators"] = {f"A-{n}": {"type": "chain", "opening": f"W-{n}", "serial": f"{n}"} for n in range(10, 20)}
    now["groups"] = {"G": {"actuators": list(now["actuators"])}, "H": {"actuators": []}}
    (step,) = (s for s in laid_out(now, copied(now))["restore", "copy a"].steps if s.do == "close")
    assert "W-16, W-17, W-18 and W-19" in step.text
    for fields in now["actuators"].values():
        del fields["opening"]
    (step,) = (s for s in laid_out(now, copied(now))["restore", "copy a"].steps if s.do == "close")
    assert step.text.startswith("close the windows and")


def test_what_stands_is_judged_already_and_differs_from_nothing():
    """A judge that finds a figure everywhere is asked of predicted sites alone; a stranger in a group is no loss."""
    now = plant()
    now["groups"]["G"]["actuators"].append("A-9")
    moves = (FigureMove(section="site", id="", figure="figure", before=1, after=2),)

    def judge(site):
        return Predicted(FindingsMoved(), () if site is None else moves, ())

    for (kind, _), way in laid_out(now, copied(now), judge=judge).items():
        assert way.figures == (() if kind == "keep" else moves)
        assert kind != "keep" or way.lost == way.returns == ()


def test_a_step_or_test_without_minutes_takes_none():
    now = plant()
    found = laid_out(now, copied(now, groups={"G": now["groups"]["G"]}), minutes={"restore": 7})
    assert found["restore", "copy a"].retest
    assert {kind: way.minutes for (kind, _), way in found.items()} == {
        "keep": 0,
        "restore": 7,
        "restore-then-mend": 7,
        "by-hand": 0,
    }


def test_the_search_of_each_way_is_told():
    """A-2 and A-3 change places; no group is full, so that two moves do it, with nobody uncovered on the way."""
    now = plant()
    copy = copied(now, groups={"G": {"actuators": ["A-1", "A-3"]}, "H": {"actuators": ["A-2", "A-4"]}})
    found = laid_out(now, copy)
    by_hand, mended = found["by-hand", "copy a"].search, found["restore-then-mend", "copy a"].search
    assert (by_hand.moving_sashes, by_hand.exact, by_hand.sum_over_moves) == (2, True, 0)
    assert (mended.moving_sashes, mended.exact, mended.sum_over_moves) == (0, True, 0)
    assert found["keep", "what stands"].search is None
    arrived = laid_out(now, design=now)["by-hand", "the plan"]
    assert [step.do for step in arrived.steps] == ["save-copy"]
    assert (arrived.search.moving_sashes, arrived.search.exact, arrived.search.sum_over_moves) == (0, True, 0)


def test_a_sash_pulled_apart_is_isolated_as_a_whole_and_connected_again():
    """A-1 and A-2 are on one sash; A-2 has a new serial, which the copy does not know."""
    now = plant()
    now["actuators"]["A-2"] |= {"opening": "W-1", "serial": "999"}
    then = copied(now)
    then.actuators["A-2"] = copied(plant()).actuators["A-2"]
    found = laid_out(now, then)
    for kind, steps in (("restore", ["isolate"]), ("restore-then-mend", ["isolate", "reconnect"])):
        way = found[kind, "copy a"]
        order = [step.do for step in way.steps]
        assert order.index("close") < order.index("isolate") < order.index("restore")  # without power nothing closes
        assert (order.count("hold-still"), order[-1]) == (1, "release")
        told = [step for step in way.steps if step.do in {"isolate", "reconnect"}]
        assert [step.do for step in told] == steps
        assert all(step.actuators == ("A-1", "A-2") and step.actuator == "A-1" for step in told)
        assert [step.uncovered for step in told] == [2, 0][: len(told)]  # what is isolated no rain closes
        assert (way.exposure.after, way.exposure.at_worst) == ({"restore": 2, "restore-then-mend": 0}[kind], 2)


def test_a_pair_is_isolated_only_where_a_copy_parts_it():
    """A-1 and A-2 are on one sash, in one group; parted are those between two groups, not those that move together."""
    now = plant()
    now["actuators"]["A-2"]["opening"] = "W-1"
    for members, parted in (((["A-1"], ["A-2"]), True), (([], ["A-1", "A-2"]), False), ((["A-1", "A-2"], []), False)):
        groups = {"G": {"actuators": members[0]}, "H": {"actuators": [*members[1], "A-3", "A-4"]}}
        way = laid_out(now, copied(now, groups=groups))["restore", "copy a"]
        assert [step.do for step in way.steps].count("isolate") == parted
        assert sum(words.startswith("Isolate A-1 and A-2 first") for words in way.first) == parted


def test_what_was_wiped_and_entered_again_is_tested_again():
    """The copy keeps groups only: what stands at the end is what stood, and was typed in by hand all the same."""
    now = plant(keeps=["groups"])
    then = copied(now, links={}, wet_weather={})
    found = laid_out(now, then)
    for kind in ("restore", "restore-then-mend"):
        tests = {(test.test, test.id) for test in found[kind, "copy a"].retest}
        assert tests == {("walk-test", "G"), ("walk-test", "H"), ("wet-test", "R-1")}
    assert found["restore-then-mend", "copy a"].lost == ()
    assert found["keep", "what stands"].retest == ()
    regrouped = {"G": {"actuators": ["A-1"]}, "H": {"actuators": ["A-2", "A-3", "A-4"]}}
    moved = laid_out(now, copied(now, groups=regrouped, links={}, wet_weather={}))["restore-then-mend", "copy a"]
    assert ("walk-test", "A-2") in {(test.test, test.id) for test in moved.retest}
    bare = {**now, "links": {}, "wet_weather": {}}
    linked = laid_out(bare, then, design=now)["restore-then-mend", "copy a"]
    assert ("wet-test", "R-1") in {(test.test, test.id) for test in linked.retest}


def test_a_group_called_otherwise_since_gets_its_links_and_actions_under_its_old_name():
    """The copy keeps groups only and calls G east; the same two windows, so that R-1 closes them again."""
    now = plant(keeps=["groups"])
    then = copied(now, groups={"east": now["groups"]["G"], "H": now["groups"]["H"]}, links={}, wet_weather={})
    way = laid_out(now, then)["restore-then-mend", "copy a"]
    assert way.predicted["links"] == {"R-1": ["H", "east"]}
    assert way.predicted["wet_weather"].keys() == {"east", "H"}
    assert way.exposure.after == 0
    now["groups"]["K"], now["links"]["WS"] = {"actuators": []}, ["K"]  # nothing is like it in the copy
    assert laid_out(now, then)["restore-then-mend", "copy a"].predicted["links"] == {"R-1": ["H", "east"]}


def test_a_controller_that_keeps_no_groups_and_has_none():
    now, copies = two_controllers(plant(keeps=["links"]))
    now["groups"] = {"G": now["groups"]["G"]}
    assert laid_out(now, copies[1])["restore-then-mend", "copy a"].predicted["groups"] == now["groups"]


def test_planned_without_a_serial_is_not_found_in_another_without_one():
    """A-9 was never fitted; A-5 was not planned: they have nothing in common, and what was added stays where it is."""
    now = plant()
    design = deepcopy(now)
    del now["actuators"]["A-4"]["serial"]
    now["actuators"]["A-5"] = now["actuators"].pop("A-4")
    now["actuators"]["A-5"]["opening"] = "W-9"
    now["openings"]["W-9"] = now["openings"]["W-4"]
    now["groups"]["H"] = {"actuators": ["A-3"]}
    design["actuators"]["A-9"] = {
        key: value for key, value in design["actuators"].pop("A-4").items() if key != "serial"
    }
    design["groups"]["H"] = {"actuators": ["A-3", "A-9"]}
    assert laid_out(now, design=design)["by-hand", "the plan"].predicted["groups"]["H"]["actuators"] == ["A-3"]


def test_actuators_found_by_id_alone_are_told():
    """Without serials on either side nobody sees an exchange."""
    now = plant()
    assert predict(site_of(now), copied(now), "copy a").warnings == ()
    bare = copied(now, actuators={key: {"opening": fields["opening"]} for key, fields in now["actuators"].items()})
    (words,) = predict(site_of(now), bare, "copy a").warnings
    assert words.startswith("no serials in the copy:")
    for fields in now["actuators"].values():
        del fields["serial"]
    (words,) = predict(site_of(now), bare, "copy a").warnings
    assert words.startswith("no serials in the copy and the site:")


def test_one_and_several_are_told_apart():
    """One link and one window to close, against two."""
    now = plant(keeps=["groups", "wet_weather"])
    now["links"] = {"R-1": ["G"]}
    (wiped,) = predict(site_of(now), copied(now), "copy a").wiped
    assert wiped.endswith("in a copy: the only one is wiped")
    closes = {}
    for section, held in (("one", ["A-1"]), ("two", ["A-1", "A-2"])):
        way = laid_out({**now, "groups": {"G": {"actuators": held}, "H": now["groups"]["H"]}}, design=now | {
            "groups": {"G": {"actuators": []}, "H": {"actuators": [*held, "A-3", "A-4"]}}})["by-hand", "the plan"]  # fmt: skip
        closes[section] = next(step.text for step in way.steps if step.do == "close")
        assert way.steps[-1].text == "let wall keys, timers and weather move them again"
    assert closes == {"one": "close W-1 and see it closed", "two": "close W-1 and W-2 and see them closed"}


def test_what_copies_cannot_know_is_told():
    """Each of the eight things a person has to hear of before putting a copy back, by the names that say which."""
    now = plant(keeps=["groups", "wet_weather"])
    now["controllers"]["C-1"] |= {"serial": "301", "firmware": "2.5", "copy_also_holds": ["user access"]}
    now["actuators"]["A-1"]["serial"] = "199"  # replaced
    del now["actuators"]["A-3"]  # gone
    now["groups"]["H"] = {"actuators": ["A-4"]}
    now["actuators"]["A-4"] |= {"opening": "W-3"}  # moved
    was = plant()
    then = copied(was)
    prediction = predict(site_of(now), then, "copy a")
    told = [
        ("A-1", "101", "199"),
        ("A-3", "103"),
        ("104", "W-4", "W-3"),
        ("copy a", "links of sensors to groups", "C-1"),
        ("C-1", "300", "301"),
        ("C-1", "2.4", "2.5"),
    ]
    assert len(prediction.warnings) == len(told)
    for names, words in zip(told, prediction.warnings, strict=True):
        assert [name for name in names if name not in words] == []
    assert prediction.moved == prediction.warnings[:3]
    (wiped,) = prediction.wiped
    assert wiped.startswith("C-1 keeps no links")
    assert "all 2" in wiped
    (also,) = prediction.also_returns
    assert (also.controller, also.what) == ("C-1", "user access")
    assert "2026-05-14" in also.text
    found = laid_out(now, then)
    assert found["restore", "copy a"].warnings == prediction.warnings
    assert found["by-hand", "copy a"].warnings == prediction.moved
    assert found["restore", "copy a"].also_returns == prediction.also_returns
    assert not found["keep", "what stands"].warnings
    (first,), (later,) = found["restore", "copy a"].first, found["restore-then-mend", "copy a"].first
    assert later == f"{first[:-1]} until entered again."
    for kind in ("restore", "restore-then-mend"):
        (step,) = (step for step in found[kind, "copy a"].steps if step.do == "restore")
        assert step.text == "put copy a back on C-1"


def test_a_member_that_a_copy_only_names_is_found_by_its_id():
    """The copy lists no actuators; A-4 is gone meanwhile."""
    now = plant()
    then = copied(now, actuators={})
    del now["actuators"]["A-4"]
    prediction = predict(site_of(now), then, "copy a")
    assert prediction.settings.members == {"G": ("A-1", "A-2"), "H": ("A-3",)}
    assert prediction.warnings == ()


def test_a_copy_of_the_present_warns_of_nothing():
    now = plant()
    prediction = predict(site_of(now), copied(now), "copy a")
    assert (prediction.warnings, prediction.wiped, prediction.moved, prediction.also_returns) == ((), (), (), ())


def test_a_type_that_does_not_say_what_a_copy_keeps_is_told():
    now = plant()
    del now["types"]["controllers"]["hall"]["saved_copy_keeps"]
    (words,) = predict(site_of(now), copied(now), "copy a").warnings
    assert "C-1" in words
    assert "saved_copy_keeps" in words


def test_controllers_of_a_copy():
    """Those it names, else those of its groups, else the only one; never one that the plant has not."""
    now = plant()
    groups = {"G": {"controller": "C-1", "actuators": ["A-1"]}, "H": {"controller": "C-9", "actuators": ["A-3"]}}
    site = site_of(now)
    assert controllers_of_copy(site, copied(now)) == ["C-1"]
    assert controllers_of_copy(site, copied(now, saved={"controllers": {"C-9": {}, "C-1": {}}})) == ["C-1"]
    assert controllers_of_copy(site, copied(now, saved={}, groups=groups)) == ["C-1"]
    assert controllers_of_copy(site, copied(now, saved={})) == ["C-1"]
    assert controllers_of_copy(site, copied(now, saved={"controllers": {"C-9": {}}})) == []
    assert controllers_of_copy(site, copied(now, saved=None)) == ["C-1"]
    now, (_, two) = two_controllers(now)
    assert controllers_of_copy(site_of(now), two) == ["C-2"]
    assert controllers_of_copy(site_of(now), copied(now, saved=None, groups={"H": now["groups"]["H"]})) == ["C-2"]
    assert controllers_of_copy(site_of(now), copied(now, saved=None, groups={})) == ["C-1", "C-2"]


@pytest.mark.parametrize("saved", [None, {"controllers": {"C-1": {}}}])
def test_a_copy_without_a_date_is_of_the_day_it_was_saved(saved):
    now = plant()
    now["controllers"]["C-1"] |= {"copy_also_holds": ["timers"]}
    prediction = predict(site_of(now), copied(now, saved=saved), "copy a")
    assert [also.text for also in prediction.also_returns] == [
        "timers of C-1 also returns to how it was on the day it was saved, not shown here"
    ]
    assert prediction.warnings == ()


def test_what_the_design_has_besides_settings_is_no_step():
    """A shorter stroke and another name stay as they are; the name is of the record only and not told."""
    now = plant()
    design = deepcopy(now)
    design["actuators"]["A-1"]["stroke_mm"] = 300
    design["rooms"]["room"]["name"] = "Hall"
    design["groups"] = {"G": {"actuators": ["A-1"]}, "H": {"actuators": ["A-3", "A-4", "A-2"]}}
    design["wet_weather"]["G"] = {"open_percent": 5}
    way = laid_out(now, design=design)["by-hand", "the plan"]
    assert [(change.id, change.field) for change in way.stays] == [("A-1", "stroke_mm")]
    assert {(change.id, change.field) for change in way.returns} == {("A-2", "group"), ("G", "open_percent")}
    assert way.predicted["groups"] == {"G": {"actuators": ["A-1"]}, "H": {"actuators": ["A-2", "A-3", "A-4"]}}
    assert way.predicted["links"] == now["links"]
    assert [step.do for step in way.steps[4:]] == ["set-wet-action", "move", "release"]


def test_a_design_over_a_limit_cannot_be_reached():
    """H may have two; the plan has three in it."""
    now = plant()
    now["controllers"]["C-1"]["limits"] = {"actuators_per_group": 2}
    design = {**now, "groups": {"G": {"actuators": ["A-1"]}, "H": {"actuators": ["A-2", "A-3", "A-4"]}}}
    way = laid_out(now, design=design)["by-hand", "the plan"]
    assert way.first[0].startswith("This way cannot be gone: ")
    assert "over one of them" in way.first[0]
    assert [step.do for step in way.steps] == ["save-copy"]


def test_what_the_plan_calls_otherwise_stays_where_it_is():
    """The same actuator and the same sensor, by their serials, under other ids: nothing is taken from anybody."""
    now = plant()
    design = deepcopy(now)
    for section, here, there in (("actuators", "A-1", "A-7"), ("sensors", "R-1", "R-7")):
        design[section] = {there if key == here else key: fields for key, fields in design[section].items()}
    design["groups"]["G"]["actuators"] = ["A-7", "A-2"]
    design["links"] = {"R-7": ["G", "H"]}
    way = laid_out(now, design=design)["by-hand", "the plan"]
    assert [step.do for step in way.steps] == ["save-copy"]
    assert (way.lost, way.stays) == ((), ())


def test_a_plan_means_places_not_serials():
    """Two actuators fitted the other way round: each window still moves with the group the plan gives it."""
    now = plant()
    design = deepcopy(now)
    serials = {"A-2": "103", "A-3": "102"}
    for key, serial in serials.items():
        now["actuators"][key]["serial"] = serial
    now["groups"] = {"G": {"actuators": ["A-1"]}, "H": {"actuators": ["A-2", "A-3", "A-4"]}}
    assert laid_out(now, design=design)["by-hand", "the plan"].predicted["groups"]["G"]["actuators"] == ["A-1", "A-2"]


def test_what_neither_copy_nor_plant_has_is_mended_from_the_design():
    """No controller keeps links, and nobody linked anything again; each copy by its name does not bring them back."""
    now, copies = two_controllers(plant(keeps=["groups", "wet_weather"]))
    design, now = deepcopy(now), {**now, "links": {}}
    found = laid_out(now, *copies, design=design)
    for name in ("copy a", "copy b", "copy a and copy b"):
        assert found["restore", name].predicted["links"] == {}
        assert found["restore-then-mend", name].predicted["links"] == {"R-1": ["G", "H"]}
        told = [words.partition(" holds links")[0] for words in found["restore", name].warnings]
        assert told == name.split(" and ")
    del now["groups"]["H"], now["wet_weather"]["H"]
    mended = laid_out(now, *copies, design=design)["restore-then-mend", "copy b"].predicted
    assert mended["links"] == {"R-1": ["G", "H"]}


def test_groups_that_a_copy_does_not_keep_are_entered_again():
    """Put back, the controller holds no group; mended, and by hand, all is as it stands."""
    now = plant(keeps=["links"])
    found = laid_out(now, copied(now))
    assert found["restore", "copy a"].predicted["groups"] == {}
    mended = found["restore-then-mend", "copy a"]
    stands = found["keep", "what stands"].predicted
    assert {name: mended.predicted[name] for name in stands} == stands
    assert (mended.exposure.at_worst, mended.exposure.after) == (4, 0)
    assert [step.do for step in mended.steps[5:]].count("put-in") == 4
    by_hand = found["by-hand", "copy a"]
    assert by_hand.predicted == stands
    assert [step.do for step in by_hand.steps] == ["save-copy"]
    now, copies = two_controllers(plant(keeps=["links"]))
    found = laid_out(now, *copies)
    for name, left in (("copy a", {"H"}), ("copy b", {"G"}), ("copy a and copy b", set())):
        assert found["restore", name].predicted["groups"].keys() == left
        mended = found["restore-then-mend", name].predicted
        assert {group: set(fields["actuators"]) for group, fields in mended["groups"].items()} == {
            "G": {"A-1", "A-2"},
            "H": {"A-3", "A-4"},
        }


def test_a_replaced_actuator_goes_where_its_window_was():
    """A-1 has a new serial and another controller's group; the copy has the window of its predecessor in G."""
    now, (copy, _) = two_controllers(plant())
    now["actuators"]["A-1"]["serial"] = "199"
    now["groups"]["G"]["actuators"], now["groups"]["H"]["actuators"] = ["A-2"], ["A-1", "A-3", "A-4"]
    mended = laid_out(now, copy)["restore-then-mend", "copy a"].predicted["groups"]
    assert {group: fields["actuators"] for group, fields in mended.items()} == {
        "G": ["A-1", "A-2"],
        "H": ["A-3", "A-4"],
    }


def test_copies_of_two_controllers_bring_all_their_warnings():
    """Each copy's own: one brings a replaced actuator back to nothing, the other what no file shows."""
    now = plant()
    now["controllers"]["C-2"] = {"type": "hall", "copy_also_holds": ["timers"]}
    for group, controller in (("G", "C-1"), ("H", "C-2")):
        now["groups"][group] = {"controller": controller, **now["groups"][group]}
    now["actuators"]["A-1"]["serial"] = "199"
    was = plant()
    one = copied(was, groups={"G": {"controller": "C-1", "actuators": ["A-1", "A-2"]}}, links={"R-1": ["G"]})
    two = copied(
        now,
        groups={"H": {"controller": "C-2", "actuators": ["A-3", "A-4"]}},
        links={"R-1": ["H"]},
        saved={"controllers": {"C-2": {}}},
    )
    found = laid_out(now, one, two)
    both = found["restore", "copy a and copy b"]
    assert len(both.warnings) == 1
    assert "199" in both.warnings[0]
    assert [also.what for also in both.also_returns] == ["timers"]
    assert both.predicted["groups"]["G"]["actuators"] == ["A-2"]
    assert both.predicted["groups"]["H"]["actuators"] == ["A-3", "A-4"]
    mended = found["restore-then-mend", "copy a and copy b"]
    assert sorted(mended.predicted["groups"]["G"]["actuators"]) == ["A-1", "A-2"]
    assert mended.predicted["links"] == now["links"]
    assert len(found) == 1 + 3 + 3 + 2
    assert len(laid_out(now, one)) == 1 + 3


def test_a_copy_of_one_controller_brings_back_its_groups_only():
    """Of four groups in it, those of C-1; what C-2 holds stands as now, and two groups of one name stay two."""
    now = plant()
    now["controllers"]["C-2"] = {"type": "hall"}
    now["groups"] = {
        "G": {"controller": "C-1", "name": "Hall", "actuators": ["A-1"]},
        "H": {"controller": "C-2", "actuators": ["A-2", "A-3"]},
    }
    now["wet_weather"] = {"G": {"open_percent": 0}, "H": {"open_percent": 5}}
    groups = {
        "G": {"controller": "C-1", "name": "Old hall", "actuators": ["A-2"]},
        "H": {"controller": "C-1", "actuators": ["A-4"]},
        "K": {"actuators": ["A-1"]},
        "L": {"controller": "C-2", "actuators": ["A-3"]},
    }
    prediction = predict(site_of(now), copied(now, groups=groups, links={"R-1": ["K", "L"]}), "copy a")
    (words,) = prediction.called
    assert words == "another controller has a group H that stays; the one that copy a brings is called H-C-1 here"
    found = prediction.settings
    assert {group: sorted(members) for group, members in found.members.items()} == {
        "G": ["A-2"],
        "H": ["A-2", "A-3"],
        "H-C-1": ["A-4"],
        "K": ["A-1"],
    }
    assert found.about["G"] == {"controller": "C-1", "name": "Old hall"}
    assert found.about["K"] == {"controller": "C-1"}
    assert found.links == {("R-1", "H"), ("R-1", "K")}
    assert found.wet_weather.keys() == {"G", "H", "H-C-1"}
    assert found.about["H-C-1"] == {"controller": "C-1"}


def test_two_groups_of_one_name_from_two_copies_and_who_was_replaced_in_one():
    """Each controller's copy has an H; A-4 of the second has another serial now, and is put into that H again."""
    now, _ = two_controllers(plant())
    now["groups"] = {"G": {"controller": "C-1", "actuators": ["A-1", "A-2", "A-3"]}}
    now["links"], now["wet_weather"] = {}, {}
    now["actuators"]["A-4"]["serial"] = "999"
    one = copied(plant(), groups={"H": {"controller": "C-1", "actuators": ["A-1"]}}, links={"R-1": ["H"]},
                 wet_weather={"H": {"open_percent": 5}}, strong_wind={"H": {"when_calm": "stay"}},
                 saved={"controllers": {"C-1": {}}})  # fmt: skip
    two = copied(plant(), groups={"H": {"controller": "C-2", "actuators": ["A-3", "A-4"]}}, links={"R-1": ["H"]},
                 wet_weather={"H": {"open_percent": 0}}, strong_wind={"H": {"when_calm": "return"}},
                 saved={"controllers": {"C-2": {}}})  # fmt: skip
    found = laid_out(now, one, two)
    both = found["restore", "copy a and copy b"].predicted
    assert both["groups"] == {"H": {"controller": "C-1", "actuators": ["A-1"]},
                              "H-C-2": {"controller": "C-2", "actuators": ["A-3"]}}  # fmt: skip
    assert both["links"] == {"R-1": ["H", "H-C-2"]}
    assert both["strong_wind"] == {"H": {"when_calm": "stay"}, "H-C-2": {"when_calm": "return"}}
    (told,) = (words for words in found["restore", "copy a and copy b"].warnings if "another controller" in words)
    assert "the one that copy b brings is called H-C-2 here" in told
    mended = found["restore-then-mend", "copy a and copy b"].predicted["groups"]
    assert mended["H-C-2"]["actuators"] == ["A-3", "A-4"]
    stands = {**now, "groups": {"H": {"controller": "C-1", "actuators": ["A-1"]}}}
    alone = laid_out(stands, two)
    assert alone["restore-then-mend", "copy a"].predicted["groups"]["H-C-2"]["actuators"] == ["A-3", "A-4"]


def test_names_that_two_copies_make_are_kept_apart():
    """A controller of c and a group of a-b make the name that b-c and a make."""

    def bare(group, controller):
        return Settings(members={group: ()}, links=frozenset(), wet_weather={}, strong_wind={},
                        about={group: {"controller": controller}})  # fmt: skip

    stands = bare("a", "z").joined([bare("a-b", "z")])
    copies = [Restored(frozenset(), ((c, bare(g, c)),)) for c, g in (("b-c", "a"), ("c", "a-b"))]
    settings, names = fill(stands, copies)
    assert names == [{"a": "a-b-c"}, {"a-b": "a-b-c-"}]
    assert settings.members.keys() == {"a", "a-b", "a-b-c", "a-b-c-"}
    together = Restored(frozenset(), tuple(part for copy in copies for part in copy.back))
    assert fill(stands, [together])[1] == [{"a": "a-b-c", "a-b": "a-b-c-"}]


def test_of_a_group_in_several_the_members_of_all_stand_in_it():
    def held(*members):
        return Settings(members={"G": members}, links=frozenset(), wet_weather={}, strong_wind={}, about={"G": {}})

    assert held("A-1", "A-2").joined([held("A-2", "A-3"), held("A-4")]).members == {"G": ("A-1", "A-2", "A-3", "A-4")}


def test_copies_of_two_controllers_in_either_order():
    """By hand: both are emptied, then each has what its own copy says; a group went from one to the other since."""
    now, (one, two) = two_controllers(plant())
    held = {"G": {"controller": "C-2", "actuators": ["A-1", "A-2", "A-3", "A-4"]}}
    for copies in ((one, two), (two, one)):
        both = laid_out({**now, "groups": held, "links": {}, "wet_weather": {}}, *copies)[
            "restore", "copy a and copy b"
        ]
        assert both.warnings == ()
        assert both.predicted["groups"] == now["groups"]
        assert (both.predicted["links"], both.predicted["wet_weather"]) == (now["links"], now["wet_weather"])


def test_what_one_controller_does_not_hear_or_command_is_not_closed_by_rain():
    """By hand: R-1 reports to C-1. West is of C-2, which hears it only where both pass sensors on."""
    now = plant()
    now["groups"] = {"G": {"controller": "C-1", "actuators": ["A-1", "A-4"]}}
    now["groups"]["H"] = {"controller": "C-2", "actuators": ["A-3"]}
    now["controllers"] = {"C-1": {"type": "hall"}, "C-2": {"type": "hall"}}
    now["sensors"]["R-1"]["controller"] = "C-1"
    for key, controller in (("A-1", "C-1"), ("A-2", "C-1"), ("A-3", "C-2"), ("A-4", "C-2")):
        now["actuators"][key]["controller"] = controller
    assert laid_out(now)["keep", "what stands"].exposure.now == 3
    for controller in now["controllers"].values():
        controller["shares_sensors"] = True
    assert laid_out(now)["keep", "what stands"].exposure.now == 2
