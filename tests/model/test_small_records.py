"""A test or a measurement as a record of its own: read, judged, compared and refused like the plain form."""

from __future__ import annotations

import copy

import pytest
from plans import plan, site_of

from zonecfg import schema
from zonecfg.compare.differences import differences
from zonecfg.model.evidence import signature

SIGNED = {"date": "2026-11-18", "by": "JS"}


def recorded(**fields):
    return plan(state="as-commissioned", record={"actuators": {"A-1": {"serial": "70041832", **fields}}})


def faults(data):
    return [(fault.check, fault.at) for fault in schema.faults(data, "site")]


@pytest.mark.parametrize(
    ("long", "plain"),
    [
        ({"walk_test": {"result": "pass", **SIGNED, "with": "meter 4"}}, {"walk_test": "pass"}),
        ({"measured_gap_mm": {"value": 118, **SIGNED}}, {"measured_gap_mm": 118}),
        ({"calibrated": {"value": True}}, {"calibrated": True}),
    ],
)
def test_the_long_form_is_read_as_the_plain_one(long, plain):
    assert faults(recorded(**long)) == []
    (name,) = plain
    read, as_read = (site_of(recorded(**form)).record.actuators["A-1"] for form in (long, plain))
    assert getattr(read, name) == getattr(as_read, name) is not None


def test_the_plain_form_inherits_day_and_name_and_equals_the_long_one():
    plain = recorded(walk_test="pass", calibrated=True, **SIGNED)
    long = recorded(walk_test={"result": "pass", **SIGNED}, calibrated={"value": True, **SIGNED})
    assert differences(site_of(plain), site_of(long))[0] == []
    assert differences(site_of(long), site_of(plain))[0] == []
    fields = plain["record"]["actuators"]["A-1"]
    assert (signature(fields, "walk_test").date, signature(fields, "walk_test").by) == ("2026-11-18", "JS")


@pytest.mark.parametrize("other", [{"date": "2026-11-19"}, {"by": "KT"}, {"with": "meter 5"}, {"result": "fail"}])
def test_another_day_name_meter_or_result_differs(other):
    one = recorded(walk_test={"result": "pass", **SIGNED})
    two = copy.deepcopy(one)
    two["record"]["actuators"]["A-1"]["walk_test"].update(other)
    (change,) = differences(site_of(one), site_of(two))[0]
    assert (change.kind, change.field) == ("recorded", "walk_test")


@pytest.mark.parametrize(
    ("fields", "at"),
    [
        ({"walk_test": {"result": "passed"}}, "/record/actuators/A-1/walk_test/result"),
        ({"walk_test": {"date": "2026-11-18"}}, "/record/actuators/A-1/walk_test"),
        ({"measured_gap_mm": {"value": -1}}, "/record/actuators/A-1/measured_gap_mm/value"),
        ({"measured_gap_mm": {"value": 1, "date": "tomorrow"}}, "/record/actuators/A-1/measured_gap_mm/date"),
        ({"walk_test": {"result": "pass", "when": 1}}, "/record/actuators/A-1/walk_test/when"),
        ({"walk_test": ["pass"]}, "/record/actuators/A-1/walk_test"),
        ({"serial": {"value": "1"}}, "/record/actuators/A-1/serial"),
    ],
)
def test_what_is_wrong_in_one_is_found_where_it_stands(fields, at):
    assert [place for _, place in faults(recorded(**fields))] == [at]


def test_windows_supplies_and_words_are_recorded_too():
    record = {
        "openings": {"W-1": {"release_test": "pass", "edge_test": {"result": "pass", **SIGNED}, "remark": "stiff"}},
        "supplies": {"PS-1": {"battery_test": "pass", "voltage_v": {"value": 24.1, **SIGNED}}},
        "sensors": {"R-1": {"wind_test": "pass", "photos": ["R-1.jpg"]}},
        "groups": {"G": {"walk_test": "pass", "date": "2026-11-18", "by": "JS"}},
    }
    data = plan(state="as-commissioned", record=record)
    assert faults(data) == []
    site = site_of(data)
    assert site.record.supplies["PS-1"].voltage_v == 24.1
    assert site.record.openings["W-1"].edge_test == "pass"


def test_what_else_a_plan_may_say():
    data = plan(
        site={"parties": {"designer": "N. Ashby"}, "risers": {"east": [3.0, 4.5]}},
        rooms={"room": {"use": "office", "outline": [[0, 0], [6, 0], [6, 4], [0, 4]]}},
        types_actuators={"chain": {"maintenance": [{"do": "Grease the chain.", "every_months": 12}]}},
        cables={
            "K-9": {
                "type": "pair",
                "from": "C-1",
                "to": "A-1",
                "length_m": 6,
                "carries": ["bus"],
                "via": [[0, 0, 2.5], [3, 0, 2.5]],
            }
        },
    )
    assert faults(data) == []
    assert site_of(data).info.parties == {"designer": "N. Ashby"}
