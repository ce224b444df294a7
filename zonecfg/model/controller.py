"""The controllers: what commands the groups."""

from typing import Annotated, Literal

from zonecfg.model.common import AtM, Cost, Maintenance, SerialPattern
from zonecfg.model.fields import Part, field, label, refers

Setting = Literal["groups", "links", "wet_weather", "strong_wind"]


class Limits(Part, frozen=True, kw_only=True):
    """How much a controller takes."""

    actuators: Annotated[int, field("Actuators on one controller.", least=0, example=40)] | None = None
    groups: Annotated[int, field("Groups on one controller.", least=0, example=16)] | None = None
    actuators_per_group: Annotated[int, field("Actuators in one group.", least=0, example=8)] | None = None
    rain_sensors: Annotated[int, field("Rain sensors on one controller.", least=0, example=5)] | None = None
    groups_per_sensor: Annotated[int, field("Groups one sensor acts on.", least=0, example=8)] | None = None


class BusLimits(Part, frozen=True, kw_only=True):
    """What a controller's bus bears."""

    unit_loads: Annotated[float, field("Unit loads on one bus.", above=0, most=10_000, example=32)] | None = None
    length_m: Annotated[float, field("Length of one bus.", "m", above=0, most=100_000, example=1200)] | None = None
    stub_m: Annotated[float, field("Longest stub.", "m", least=0, most=1_000, example=1.5)] | None = None
    bit_rate: Annotated[float, field("Rate of the bus.", "bit/s", above=0, most=1e9, example=19200)] | None = None


class Controller(Part, frozen=True, kw_only=True):
    """What commands the groups."""

    id: str
    type: (
        Annotated[
            str,
            refers("types.controllers", "Type of the controller.", required=True, example="hall-controller"),
        ]
        | None
    ) = None
    room: Annotated[str, refers("rooms", "Room it hangs in.", example="studio")] | None = None
    serial: Annotated[str, label("Serial number, as on the label.", example="40022011", touches="record")] | None = None
    firmware: Annotated[str, label("Version of its program.", example="2.4.1")] | None = None
    panel_locked: (
        Annotated[bool, field("Whether its panel is locked against unauthorised changes.", example=True)] | None
    ) = None
    limits: Annotated[Limits, field("How much it takes.", example={"actuators": 40})] | None = None
    moves_at_once: (
        Annotated[int, field("Sashes it moves at the same time; those beyond wait.", least=1, example=20)] | None
    ) = None
    saved_copy_keeps: (
        Annotated[tuple[Setting, ...], field("Settings that a saved copy holds and puts back.", example=["groups"])]
        | None
    ) = None
    copy_also_holds: (
        Annotated[
            tuple[str, ...],
            field("What a copy brings back that this file does not hold.", example=["timers"]),
        ]
        | None
    ) = None
    bus: Annotated[BusLimits, field("What its bus bears.", example={"unit_loads": 32}, touches="electrical")] | None = (
        None
    )
    bus_end_resistor: (
        Annotated[
            Literal["built-in", "switch", "none"],
            field("Resistor across the bus inside it.", example="switch", touches="electrical"),
        ]
        | None
    ) = None
    bus_unit_load: (
        Annotated[
            float,
            field("Its own load on the bus, in RS-485 unit loads.", least=0, most=100, example=1, touches="electrical"),
        ]
        | None
    ) = None
    idle_a: (
        Annotated[
            float,
            field("Current it draws.", "A", least=0, most=100, usual=(0.001, 10), example=0.15, touches="electrical"),
        ]
        | None
    ) = None
    output_a: (
        Annotated[
            float,
            field(
                "Current it passes on to actuators.",
                "A",
                above=0,
                most=1_000,
                usual=(0.1, 200),
                example=10,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    fire_command_outranks: (
        Annotated[bool, field("Whether a fire command goes before rain and wind.", example=True, touches="safety")]
        | None
    ) = None
    shares_sensors: (
        Annotated[
            bool, field("Whether its groups may obey sensors of another controller.", example=True, touches="weather")
        ]
        | None
    ) = None
    voltage_min_v: (
        Annotated[
            float,
            field(
                "Lowest voltage it still works at.",
                "V",
                above=0,
                most=1_000,
                usual=(4, 400),
                example=20,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    fire_moves_at_once: (
        Annotated[
            int, field("Sashes it moves at the same time on a fire command.", least=1, example=40, touches="safety")
        ]
        | None
    ) = None
    copy_finds: (
        Annotated[
            Literal["serial", "address"],
            field("By what a saved copy that is put back finds its actuators.", example="serial"),
        ]
        | None
    ) = None
    can_hold: (
        Annotated[
            bool,
            field(
                "Whether it can keep weather from moving windows while settings change.",
                example=True,
                touches="weather",
            ),
        ]
        | None
    ) = None
    at_m: AtM | None = None
    serial_pattern: SerialPattern | None = None
    cost: Cost | None = None
    maintenance: Maintenance | None = None
