"""The evidence: what was seen and tested, where a saved copy is from, and which findings people accepted."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

import msgspec

from zonecfg.model.fields import PLACE, Part, day, field, label, section, text
from zonecfg.results.own import is_own

Test = Literal["pass", "fail"]


Day = Annotated[str, day("When.")]
Person = Annotated[str, text("Who.", example="installer")]
Remark = Annotated[str, text("What else was seen.", example="Reveal is tight on the left.")]
Photos = Annotated[
    tuple[str, ...],
    field("Names of the files that pictures of it lie in.", ordered=True, example=["W-104.jpg"], touches="record"),
]


class Signature(Part, frozen=True, kw_only=True):
    """When something was seen, by whom, and with what."""

    date: Day | None = None
    by: Person | None = None
    with_: Annotated[str, text("With what.", example="meter 4")] | None = msgspec.field(default=None, name="with")


class ControllerRecord(Part, frozen=True, kw_only=True):
    """What was seen at a controller."""

    actuators_counted: (
        Annotated[int, field("Actuators the controller found.", least=0, example=5, signed="value")] | None
    ) = None
    fire_test: Annotated[Test, field("Test with the fire command.", example="pass", signed="result")] | None = None
    date: Day | None = None
    by: Person | None = None
    remark: Remark | None = None
    photos: Photos | None = None


class ActuatorRecord(Part, frozen=True, kw_only=True):
    """What was seen at an actuator."""

    serial: Annotated[str, label("Serial of the actuator that was tested.", example="70041832")] | None = None
    calibrated: (
        Annotated[bool, field("Whether its calibration runs were made.", example=True, signed="value")] | None
    ) = None
    walk_test: (
        Annotated[
            Test, field("Whether this window moved, fully and freely, when told to.", example="pass", signed="result")
        ]
        | None
    ) = None
    measured_stroke_mm: (
        Annotated[float, field("Stroke as measured.", "mm", least=0, most=5_000, example=298, signed="value")] | None
    ) = None
    measured_gap_mm: (
        Annotated[
            float,
            field("Largest gap at the sash, as measured.", "mm", least=0, most=20_000, example=118, signed="value"),
        ]
        | None
    ) = None
    voltage_moving_v: (
        Annotated[
            float,
            field("Voltage at the actuator while it moves.", "V", least=0, most=1_500, example=23.4, signed="value"),
        ]
        | None
    ) = None
    date: Day | None = None
    by: Person | None = None
    remark: Remark | None = None
    photos: Photos | None = None


class GroupRecord(Part, frozen=True, kw_only=True):
    """What was seen of a group."""

    walk_test: (
        Annotated[Test, field("Whether all its windows, and no other, moved.", example="pass", signed="result")] | None
    ) = None
    moved_after_s: (
        Annotated[
            float,
            field(
                "Time from the command until all had stopped.", "s", least=0, most=100_000, example=47, signed="value"
            ),
        ]
        | None
    ) = None
    date: Day | None = None
    by: Person | None = None
    remark: Remark | None = None
    photos: Photos | None = None


class SensorRecord(Part, frozen=True, kw_only=True):
    """What was seen of a sensor."""

    wet_test: (
        Annotated[Test, field("Whether wetting it closed its groups, and no other.", example="pass", signed="result")]
        | None
    ) = None
    settled_after_s: (
        Annotated[
            float,
            field(
                "Time from wetting until the last window had stopped.",
                "s",
                least=0,
                most=100_000,
                example=49,
                signed="value",
            ),
        ]
        | None
    ) = None

    wind_test: (
        Annotated[
            Test, field("Whether wind over its limit closed its groups, and no other.", example="pass", signed="result")
        ]
        | None
    ) = None
    date: Day | None = None
    by: Person | None = None
    remark: Remark | None = None
    photos: Photos | None = None


class OpeningRecord(Part, frozen=True, kw_only=True):
    """What was seen of a window."""

    release_test: (
        Annotated[
            Test, field("Whether a hand freed it from its actuators as it should.", example="pass", signed="result")
        ]
        | None
    ) = None
    edge_test: (
        Annotated[
            Test, field("Whether its pressure edge or light curtain stopped it.", example="pass", signed="result")
        ]
        | None
    ) = None
    date: Day | None = None
    by: Person | None = None
    remark: Remark | None = None
    photos: Photos | None = None


class SupplyRecord(Part, frozen=True, kw_only=True):
    """What was seen of a power supply."""

    battery_test: (
        Annotated[Test, field("Whether it moved all it must, mains off.", example="pass", signed="result")] | None
    ) = None
    voltage_v: (
        Annotated[float, field("Voltage at its terminals.", "V", least=0, most=1_500, example=24.1, signed="value")]
        | None
    ) = None
    date: Day | None = None
    by: Person | None = None
    remark: Remark | None = None
    photos: Photos | None = None


class BusRecord(Part, frozen=True, kw_only=True):
    """What was measured at a bus."""

    bus_ohm: (
        Annotated[
            float,
            field("Resistance across the bus, supply off.", "Ω", least=0, most=1_000_000, example=61, signed="value"),
        ]
        | None
    ) = None
    date: Day | None = None
    by: Person | None = None
    remark: Remark | None = None
    photos: Photos | None = None


class Record(Part, frozen=True, kw_only=True):
    """What was seen and tested on site."""

    controllers: Annotated[
        dict[str, ControllerRecord], section("What was seen at controllers, by id.", keyed_by="controllers")
    ] = {}
    actuators: Annotated[
        dict[str, ActuatorRecord], section("What was seen at actuators, by id.", keyed_by="actuators")
    ] = {}
    groups: Annotated[dict[str, GroupRecord], section("What was seen of groups, by id.", keyed_by="groups")] = {}
    sensors: Annotated[dict[str, SensorRecord], section("What was seen of sensors, by id.", keyed_by="sensors")] = {}
    buses: Annotated[
        dict[str, BusRecord], section("What was measured at buses, by controller.", keyed_by="controllers")
    ] = {}
    openings: Annotated[dict[str, OpeningRecord], section("What was seen of windows, by id.", keyed_by="openings")] = {}
    supplies: Annotated[
        dict[str, SupplyRecord], section("What was seen of power supplies, by id.", keyed_by="supplies")
    ] = {}


def plainly(record: Mapping[str, Any]) -> dict[str, Any]:
    """Give a record with every small record in it as its value alone; what has no value says nothing."""
    return {
        part: {
            thing: {field: _value(value) for field, value in fields.items() if _value(value) is not None}
            if isinstance(fields, Mapping)
            else fields
            for thing, fields in held.items()
        }
        if isinstance(held, Mapping) and not is_own(part)
        else held
        for part, held in record.items()
    }


def _value(value: Any) -> Any:
    return value.get("result", value.get("value")) if isinstance(value, Mapping) else value


def signature(fields: Mapping[str, Any], field: str) -> Signature:
    """Say when and by whom something was seen: as its own small record says, else as the thing's record says."""
    own = fields.get(field)
    said: Mapping[str, Any] = own if isinstance(own, Mapping) else {}
    return Signature(
        date=said.get("date", fields.get("date")), by=said.get("by", fields.get("by")), with_=said.get("with")
    )


class SavedController(Part, frozen=True, kw_only=True):
    """The controller a copy was saved from."""

    serial: Annotated[str, label("Its serial number then.", example="40022011")] | None = None
    firmware: Annotated[str, label("Version of its program then.", example="2.4.1")] | None = None


class Saved(Part, frozen=True, kw_only=True):
    """Where a saved copy is from."""

    controllers: Annotated[
        dict[str, SavedController], section("The controllers it was saved from, by id.", keyed_by="controllers")
    ] = {}
    date: Annotated[str, day("When it was saved.")] | None = None
    by: Annotated[str, text("Who saved it.", example="installer")] | None = None
    because: Annotated[str, text("Why it was saved.", example="Hand-over")] | None = None


class Acceptance(Part, frozen=True, kw_only=True):
    """A finding that people decided to live with."""

    check: (
        Annotated[
            str, text("Check whose finding is accepted.", required=True, example="group-spans-rooms", refers="checks")
        ]
        | None
    ) = None
    at: (
        Annotated[
            str,
            text(
                "JSON Pointer to the thing, or to what holds it; or the thing as findings print it.",
                required=True,
                example="/groups/studio-south",
                refers=PLACE,
            ),
        ]
        | None
    ) = None
    because: Annotated[str, text("Why it is right as it is.", required=True, example="Open-plan floor.")] | None = None
    by: Annotated[str, text("Who decided.", example="services engineer")] | None = None
    until: Annotated[str, day("Last day it holds.", example="2027-03-01")] | None = None
