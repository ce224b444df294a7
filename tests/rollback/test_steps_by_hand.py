"""Steps between two states of one plant, all written down by hand."""

from plans import plan, site_of

from zonecfg.rollback.settings import settings_of
from zonecfg.rollback.steps import steps_between

MINUTES = dict.fromkeys(("make-group", "set-wet-action", "set-wind-action", "link", "move", "park", "put-in"), 1.0)
SHUT, STAY = {"open_percent": 0}, {"when_calm": "stay"}


def plant(**sections):
    """Six actuators, the first two on one sash; a group has two at most, and rain closes all that are in one."""
    homes = {"A-1": "W-1", "A-2": "W-1", "A-3": "W-2", "A-4": "W-3", "A-5": "W-4", "A-6": "W-5"}
    return site_of(
        plan(
            types_controllers={"hall": {"limits": {"actuators_per_group": 2}}},
            openings={f"W-{n}": {"type": "sash", "room": "room", "sheltered": False} for n in range(1, 6)},
            controllers={"C-1": {"type": "hall"}},
            actuators={name: {"type": "chain", "opening": opening} for name, opening in homes.items()},
            sensors={"R-1": {"type": "plate"}, "R-2": {"type": "plate"}},
            **sections,
        )
    )


def test_every_kind_of_step():
    """Two full groups swap, a pair against two; one actuator gets a group, one loses it; a group comes, one goes."""
    now = plant(
        groups={
            "G": {"actuators": []},
            "hall": {"actuators": ["A-1", "A-2"]},
            "foyer": {"actuators": ["A-3", "A-4"]},
            "loft": {"actuators": ["A-6"]},
        },
        links={"R-1": ["hall", "foyer", "loft"]},
        wet_weather={"hall": SHUT, "foyer": SHUT, "loft": SHUT},
        strong_wind={"hall": STAY, "loft": STAY},
    )
    then = plant(
        groups={
            "G": {"actuators": []},
            "hall": {"actuators": ["A-3", "A-4"]},
            "foyer": {"actuators": ["A-1", "A-2"]},
            "attic": {"actuators": ["A-5"]},
        },
        links={"R-1": ["hall", "foyer", "attic"]},
        wet_weather={"hall": SHUT, "foyer": SHUT, "attic": {"open_percent": 5}},
        strong_wind={"hall": {}, "attic": {"when_calm": "return", "calm_minutes": 10.0}},
    )
    steps = steps_between(now, settings_of(now), settings_of(then), MINUTES).steps
    assert [(s.do, s.text, s.group, s.from_group, s.sensor, s.uncovered) for s in steps] == [
        ("make-group", "make the group attic", "attic", None, None, 1),
        ("set-wet-action", "set attic: close to 5 % of the stroke in rain, stay so", "attic", None, None, 1),
        ("link", "link R-1 to attic", "attic", None, "R-1", 1),
        ("put-in", "put A-5 (window W-4, room) into attic", "attic", None, None, 0),
        (
            "set-wind-action",
            "set attic: close in strong wind, go back once it is calm for 10 minutes",
            "attic", None, None, 0,
        ),
        ("set-wind-action", "set hall: close in strong wind, stay so", "hall", None, None, 0),
        ("park", "take A-3 (window W-2, room) out of foyer", "foyer", "foyer", None, 1),
        ("park", "take A-4 (window W-3, room) out of foyer", "foyer", "foyer", None, 2),
        (
            "move",
            "move A-1 (window W-1, room) and A-2 (window W-1, room) together from hall to foyer",
            "foyer", "hall", None, 2,
        ),
        ("put-in", "put A-3 (window W-2, room) into hall", "hall", None, None, 1),
        ("put-in", "put A-4 (window W-3, room) into hall", "hall", None, None, 0),
        ("park", "take A-6 (window W-5, room) out of loft", "loft", "loft", None, 1),
        ("unlink", "unlink R-1 from loft", "loft", None, "R-1", 1),
        ("clear-wet-action", "take away what loft does in wet weather", "loft", None, None, 1),
        ("clear-wind-action", "take away what loft does in strong wind", "loft", None, None, 1),
        ("empty-group", "take the empty group loft away", "loft", None, None, 1),
    ]  # fmt: skip
    assert [step.actuator for step in steps if step.actuators] == ["A-5", "A-3", "A-4", "A-1", "A-3", "A-4", "A-6"]
    assert [step.actuators for step in steps if step.do == "move"] == [("A-1", "A-2")]


def test_an_action_taken_away_under_a_link_uncovers():
    now, then = (
        plant(groups={"G": {"actuators": ["A-1", "A-2"]}}, links={"R-1": ["G"]}, wet_weather=wet)
        for wet in ({"G": SHUT}, {})
    )
    (step,) = steps_between(now, settings_of(now), settings_of(then), MINUTES).steps
    assert (step.do, step.uncovered) == ("clear-wet-action", 6)


def test_a_second_sensor_of_a_group_covers_nobody_and_goes_last():
    groups = {"G": {"actuators": []}, "hall": {"actuators": ["A-1", "A-2"]}, "foyer": {"actuators": ["A-3"]}}
    acts = {"hall": SHUT, "foyer": SHUT}
    now = plant(groups=groups, wet_weather=acts)
    then = plant(groups=groups, wet_weather=acts, links={"R-1": ["hall", "foyer"], "R-2": ["hall"]})
    steps = steps_between(now, settings_of(now), settings_of(then), MINUTES).steps
    assert [(step.sensor, step.group, step.uncovered) for step in steps] == [
        ("R-1", "hall", 4),
        ("R-1", "foyer", 3),
        ("R-2", "hall", 3),
    ]


def test_a_sash_that_the_target_pulls_apart_goes_actuator_by_actuator():
    now = plant(groups={"G": {"actuators": ["A-1", "A-2"]}, "hall": {"actuators": []}, "foyer": {"actuators": []}})
    then = plant(groups={"G": {"actuators": []}, "hall": {"actuators": ["A-2"]}, "foyer": {"actuators": ["A-1"]}})
    steps = steps_between(now, settings_of(now), settings_of(then), MINUTES).steps
    assert [step.text for step in steps] == [
        "move A-1 (window W-1, room) from G to foyer",
        "move A-2 (window W-1, room) from G to hall",
    ]
