"""The wiring: supplies, boxes and the cables between things."""

from typing import Annotated, Literal

from zonecfg.model.common import AtM, Cost, Line, Maintenance, SerialPattern
from zonecfg.model.fields import Part, field, refers, text

Duty = Literal["power", "bus", "sync", "common", "contact"]


class Supply(Part, frozen=True, kw_only=True):
    """What feeds the plant."""

    id: str
    type: Annotated[str, refers("types.supplies", "Type of the supply.", required=True, example="psu-24-10")] | None = (
        None
    )
    room: Annotated[str, refers("rooms", "Room it hangs in.", example="studio")] | None = None
    battery: Annotated[bool, field("Whether it goes on from a battery when the mains fail.", example=True)] | None = (
        None
    )
    output_v: (
        Annotated[float, field("Rated voltage.", "V DC", above=0, most=1_500, usual=(5, 400), example=24)] | None
    ) = None
    output_min_v: (
        Annotated[
            float,
            field(
                "Voltage at full load or at the end of the battery; output_v where not given.",
                "V DC",
                above=0,
                most=1_500,
                usual=(4, 400),
                example=22.5,
            ),
        ]
        | None
    ) = None
    output_a: (
        Annotated[float, field("Current it can deliver.", "A", above=0, most=10_000, usual=(0.1, 400), example=10)]
        | None
    ) = None
    fuse_a: (
        Annotated[float, field("Fuse at its output.", "A", above=0, most=10_000, usual=(0.05, 400), example=10)] | None
    ) = None
    output_max_v: (
        Annotated[
            float,
            field(
                "Highest voltage it gives, such as while its battery is charged.",
                "V DC",
                above=0,
                most=1_500,
                usual=(5, 500),
                example=27.6,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    battery_ah: (
        Annotated[
            float,
            field(
                "Capacity of its battery.",
                "Ah",
                above=0,
                most=100_000,
                usual=(0.3, 2_000),
                example=7.2,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    standby_h: (
        Annotated[
            float,
            field(
                "How long the battery carries the plant at rest before it has to move.",
                "h",
                least=0,
                most=1_000,
                usual=(0.5, 200),
                example=72,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    at_m: AtM | None = None
    serial_pattern: SerialPattern | None = None
    cost: Cost | None = None
    maintenance: Maintenance | None = None


class Junction(Part, frozen=True, kw_only=True):
    """A box where cables meet."""

    id: str
    room: Annotated[str, refers("rooms", "Room the box is in.", example="studio")] | None = None
    at_m: AtM | None = None


class Cable(Part, frozen=True, kw_only=True, rename={"from_": "from"}):
    """A cable between two things."""

    id: str
    from_: (
        Annotated[
            str,
            refers(
                "nodes",
                "Where the cable begins: a controller, supply, actuator, sensor or junction.",
                required=True,
                example="PS-1",
            ),
        ]
        | None
    ) = None
    to: Annotated[str, refers("nodes", "Where the cable ends.", required=True, example="C-1")] | None = None
    length_m: (
        Annotated[
            float, field("Length, one way.", "m", least=0, most=100_000, required=True, usual=(0.1, 3_000), example=9)
        ]
        | None
    ) = None
    type: (
        Annotated[str, refers("types.cables", "Type of the cable.", required=True, example="drive-2x2.5-pair")] | None
    ) = None
    carries: (
        Annotated[tuple[Duty, ...], field("What runs through it.", required=True, example=["power", "bus"])] | None
    ) = None
    line: (
        Annotated[
            str,
            text("Port or segment of the controller it belongs to; 1 where not given.", example="2", as_written=True),
        ]
        | None
    ) = None
    conductor_mm2: (
        Annotated[
            float, field("Cross-section of a conductor.", "mm²", above=0, most=1_000, usual=(0.1, 300), example=2.5)
        ]
        | None
    ) = None
    conductor_class: Annotated[Literal[1, 2, 5], field("Conductor class of IEC 60228.", example=5)] | None = None
    conductor_c: (
        Annotated[
            float,
            field("Temperature of the conductor; 40 where not given.", "°C", least=-60, most=150, example=40),
        ]
        | None
    ) = None
    current_max_a: (
        Annotated[float, field("Current the cable may carry.", "A", above=0, most=10_000, usual=(0.2, 600), example=16)]
        | None
    ) = None
    conductor_awg: (
        Annotated[
            int, field("American gauge of a conductor, in place of conductor_mm2.", least=-3, most=40, example=14)
        ]
        | None
    ) = None
    fire_minutes: (
        Annotated[
            float,
            field("How long it goes on working in a fire.", "min", least=0, most=1_000, example=30, touches="safety"),
        ]
        | None
    ) = None
    via: Line | None = None
    cost: Cost | None = None
    maintenance: Maintenance | None = None
