"""Single rules of the weather, each on the smallest plant that shows it."""

from pathlib import Path

import pytest
from test_fixed_step import site_of

from zonecfg.errors import UnknownName
from zonecfg.figures import Figures
from zonecfg.rehearsal.simulate import played
from zonecfg.rehearsal.weather import BadSpell, weather
from zonecfg.results.rehearsal import position_at

ROOT = Path(__file__).parents[2]


def plant(**changes):
    """One window of 300 mm at 6 mm/s (50 s), a rain and a wind sensor."""
    data = {
        "format": "zonecfg-site/1",
        "state": "as-designed",
        "site": {"name": "Mill Lane Pavilion"},
        "types": {
            "actuators": {"chain": {"speed_mm_s": 6, "stroke_mm": 300}},
            "controllers": {"panel": {"fire_command_outranks": True}},
            "sensors": {
                "plate": {"measures": "rain", "responds_s": 0, "if_lost": "dry"},
                "cup": {"measures": "wind", "responds_s": 0},
            },
        },
        "rooms": {"hall": {}},
        "openings": {"W-1": {"room": "hall"}},
        "controllers": {"C-1": {"type": "panel"}},
        "actuators": {"A-1": {"type": "chain", "opening": "W-1"}},
        "groups": {"hall": {"actuators": ["A-1"]}},
        "sensors": {"R-1": {"type": "plate"}, "R-2": {"type": "plate"}, "WS-1": {"type": "cup"}},
        "links": {"R-1": ["hall"], "R-2": ["hall"], "WS-1": ["hall"]},
        "wet_weather": {"hall": {"open_percent": 20, "when_dry": "return", "dry_minutes": 5}},
        "strong_wind": {"hall": {"when_calm": "return", "calm_minutes": 2}},
    }
    for path, value in changes.items():
        node = data
        *steps, last = path.split("__")
        for step in steps:
            node = node[step.replace("_dot_", "-")]
        node[last.replace("_dot_", "-")] = value
    return site_of(data)


def play(site, start=100.0, **asked):
    answer = played(Figures(site), weather(site, **asked), "s.yaml", start)
    return answer, lambda minute: position_at(answer.positions["hall"], minute * 60)


def test_rain_closes_to_the_limit_and_returns_after_the_wait():
    """80 % of 300 mm at 6 mm/s takes 40 s; the wait of 5 minutes begins when it is dry."""
    answer, at = play(plant(), wet=["R-1@1..10"])
    assert at(1) == 100
    assert at(1 + 20 / 60) == pytest.approx(60)
    assert at(5) == pytest.approx(20)
    assert at(14.9) == pytest.approx(20)
    assert at(15 + 20 / 60) == pytest.approx(60)
    assert at(16) == pytest.approx(100)
    assert answer.settled_s == pytest.approx(100)


def test_rain_never_opens_a_window():
    _, at = play(plant(), start=5, wet=["R-1@1..10"])
    assert {at(minute) for minute in range(16)} == {5}


def test_rain_again_in_the_wait_starts_it_anew():
    _, at = play(plant(), wet=["R-1@1..10", "R-1@14..16"])
    assert at(20.9) == pytest.approx(20)
    assert at(22) == pytest.approx(100)


def test_wet_if_any_is_wet_and_dry_when_all_have_been_dry():
    _, at = play(plant(), wet=["R-1@1..10", "R-2@8..12"])
    assert at(16.9) == pytest.approx(20)
    assert at(18) == pytest.approx(100)


def test_wind_closes_fully_while_rain_only_limits():
    _, at = play(plant(), wet=["R-1@1..20"], wind=["WS-1@5..8"])
    assert at(4) == pytest.approx(20)
    assert at(7) == pytest.approx(0)
    assert at(12) == pytest.approx(20)  # calm for two minutes, still raining: back to what rain allows
    assert at(27) == pytest.approx(100)


def test_stay_leaves_it_where_the_limit_held_it():
    site = plant(wet_weather__hall={"open_percent": 20, "when_dry": "stay"})
    _, at = play(site, wet=["R-1@1..10"])
    assert at(30) == pytest.approx(20)


@pytest.mark.parametrize(("if_lost", "stands"), [("wet", 20), ("dry", 100), ("fault", 100)])
def test_a_sensor_that_never_reports_is_what_if_lost_says(if_lost, stands):
    site = plant(types__sensors__plate={"measures": "rain", "responds_s": 0, "if_lost": if_lost})
    answer, at = play(site, wet=["R-1@1..10"], fail=["R-1"])
    assert at(9) == pytest.approx(stands)
    if stands == 100:
        assert [entry.because for entry in answer.open_in_rain] == ["R-1 did not report"]


def test_fire_opens_a_smoke_vent_in_the_rain_where_the_controller_states_it():
    site = plant(openings={"W-1": {"room": "hall", "smoke_vent": True, "smoke_stroke_mm": 300}})
    answer, at = play(site, wet=["R-1@1..10"], fire_minute=5)
    assert at(4.9) == pytest.approx(20)
    assert at(6) == pytest.approx(100)
    assert answer.notes == ()


@pytest.mark.parametrize(("asked", "said"), [({"smoke_stroke_mm": 450}, "150 mm more"), ({}, "is not known")])
def test_a_smoke_vent_rehearsed_short_of_its_smoke_stroke_is_told(asked, said):
    """The set stroke is 300 mm: a rehearsal must not look as if the vent were open for smoke."""
    site = plant(openings={"W-1": {"room": "hall", "smoke_vent": True, **asked}})
    answer, _ = play(site, fire_minute=5)
    (note,) = answer.notes
    assert note.startswith("W-1 ")
    assert said in note


def test_where_it_is_not_stated_the_rehearsal_says_what_would_happen():
    site = plant(openings={"W-1": {"room": "hall", "smoke_vent": True}}, types__controllers__panel={"moves_at_once": 4})
    answer, at = play(site, wet=["R-1@1..10"], fire_minute=5)
    assert at(9) == pytest.approx(20)
    assert "does not state" in answer.notes[0]


@pytest.mark.parametrize(
    ("asked", "error"),
    [
        ({"wet": ["R-9@1..2"]}, UnknownName),
        ({"wet": ["R-1@5..2"]}, BadSpell),
        ({"wet": ["R-1@5..5"]}, BadSpell),
        ({"wet": ["R-1@1..5", "R-1@4..8"]}, BadSpell),
        ({"wet": ["WS-1@1..2"]}, BadSpell),
        ({"wind": ["R-1@1..2"]}, BadSpell),
        ({"wet": ["R-1 from 1 to 2"]}, BadSpell),
        ({"wet": ["R-1@1..99999999"]}, BadSpell),
        ({"fire_minute": -1}, BadSpell),
        ({"fail": ["R-9"]}, UnknownName),
    ],
)
def test_weather_that_cannot_be_rehearsed(asked, error):
    with pytest.raises(error):
        weather(plant(), **asked)


def test_what_still_holds_a_group_is_told_when_rain_lets_go():
    """Dry at 3, the wait of 5 minutes over at 8, while the wind holds until 20 + 2."""
    answer, at = play(plant(), wet=["R-1@1..3"], wind=["WS-1@2..20"])
    told = {event.at_s / 60: event.text for event in answer.happenings if event.what == "returns"}
    assert told[8] == "hall goes back after rain, as far as wind lets it"
    assert told[22] == "hall goes back after wind"
    assert at(9) == 0


def test_a_group_that_waits_its_turn_says_so():
    site = plant(
        types__controllers__panel={"moves_at_once": 1},
        openings={"W-1": {"room": "hall"}, "W-2": {"room": "hall"}},
        actuators={"A-1": {"type": "chain", "opening": "W-1"}, "A-2": {"type": "chain", "opening": "W-2"}},
        groups={"hall": {"actuators": ["A-1"]}, "bar": {"actuators": ["A-2"]}},
        links={"R-1": ["hall", "bar"]},
        wet_weather={name: {"open_percent": 0, "when_dry": "stay"} for name in ("hall", "bar")},
    )
    answer, _ = play(site, wet=["R-1@1..10"])
    assert [(event.at_s, event.text) for event in answer.happenings if event.what == "queues"] == [
        (60, "bar waits its turn: C-1 moves 1 window at once")
    ]


@pytest.mark.parametrize("sharing", [False, True])
def test_what_another_controller_holds_is_not_reached_unless_they_share(sharing):
    """By hand: R-1 and A-1 are of C-1, the group of C-2; with R-1 shared C-2 hears it, and still does not move A-1."""
    site = plant(
        controllers={
            "C-1": {"type": "panel", "shares_sensors": sharing},
            "C-2": {"type": "panel", "shares_sensors": True},
        },
        actuators={
            "A-1": {"type": "chain", "opening": "W-1", "controller": "C-1"},
            "A-2": {"type": "chain", "opening": "W-2", "controller": "C-2"},
        },
        openings={"W-1": {"room": "hall"}, "W-2": {"room": "hall"}},
        groups={"hall": {"controller": "C-2", "actuators": ["A-1", "A-2"]}},
        sensors={"R-1": {"type": "plate", "controller": "C-1"}},
        links={"R-1": ["hall"]},
        wet_weather={"hall": {"open_percent": 0, "when_dry": "stay"}},
        strong_wind={},
    )
    answer, at = play(site, wet=["R-1@1..10"])
    assert at(5) == (0 if sharing else 100)
    assert [left.opening for left in answer.open_in_rain] == ["W-1", "W-2"][: 2 - sharing]
    told = [note.partition("do not hear")[1] or note.partition("does not move")[1] for note in answer.notes]
    assert told == ["do not hear"] * (not sharing) + ["does not move"]


def test_a_smoke_stroke_that_no_actuator_has_is_told():
    """The strategy asks for 500 mm, the actuator has 350 mm at most and is set to 300 mm: no test can prove it."""
    chain = {"chain": {"speed_mm_s": 6, "stroke_mm": 300, "stroke_max_mm": 350}}
    window = {"room": "hall", "smoke_vent": True, "smoke_stroke_mm": 500}
    answer, _ = play(plant(types__actuators=chain, openings={"W-1": window}), fire_minute=1)
    assert [note for note in answer.notes if "W-1" in note] == [
        "W-1 cannot open the 500 mm that the fire strategy asks for: its actuators have 350 mm"
    ]
