"""The actuators: what moves the sashes."""

from typing import Annotated, Literal

from zonecfg.model.common import AtM, Cost, Maintenance, SerialPattern
from zonecfg.model.fields import Part, field, label, refers


class Actuator(Part, frozen=True, kw_only=True):
    """What moves a sash."""

    id: str
    type: (
        Annotated[str, refers("types.actuators", "Type of the actuator.", required=True, example="chain-24-350")] | None
    ) = None
    opening: (
        Annotated[str, refers("openings", "Opening whose sash it moves.", required=True, example="W-01")] | None
    ) = None
    stroke_mm: (
        Annotated[
            float,
            field(
                "Stroke as set.",
                "mm",
                above=0,
                most=5_000,
                possible=10,
                usual=(20, 2_000),
                example=300,
                touches="safety",
            ),
        ]
        | None
    ) = None
    serial: Annotated[str, label("Serial number, as on the label.", example="70041832", touches="record")] | None = None
    controller: (
        Annotated[
            str,
            refers(
                "controllers",
                "Controller that commands it, where cables and groups do not say.",
                example="C-1",
            ),
        ]
        | None
    ) = None
    kind: (
        Annotated[
            Literal["chain", "rack", "spindle", "folding-arm"],
            field("How the actuator pushes.", example="chain", touches="safety"),
        ]
        | None
    ) = None
    stroke_max_mm: (
        Annotated[
            float,
            field(
                "Longest stroke it can be set to.",
                "mm",
                above=0,
                most=5_000,
                usual=(20, 2_000),
                example=350,
                touches="safety",
            ),
        ]
        | None
    ) = None
    thrust_n: (
        Annotated[
            float,
            field(
                "Force it pushes and pulls with.",
                "N",
                above=0,
                most=50_000,
                usual=(20, 10_000),
                example=250,
                touches="safety",
            ),
        ]
        | None
    ) = None
    push_n: (
        Annotated[
            float,
            field(
                "Force it pushes with, where push and pull differ.",
                "N",
                above=0,
                most=50_000,
                usual=(20, 10_000),
                example=200,
                touches="safety",
            ),
        ]
        | None
    ) = None
    pull_n: (
        Annotated[
            float,
            field(
                "Force it pulls with, where push and pull differ.",
                "N",
                above=0,
                most=50_000,
                usual=(20, 10_000),
                example=300,
                touches="safety",
            ),
        ]
        | None
    ) = None
    hold_n: (
        Annotated[
            float,
            field(
                "Force it holds against at rest.",
                "N",
                above=0,
                most=100_000,
                usual=(20, 20_000),
                example=300,
                touches="safety",
            ),
        ]
        | None
    ) = None
    speed_mm_s: (
        Annotated[float, field("Speed of travel.", "mm/s", above=0, most=1_000, usual=(0.5, 200), example=6)] | None
    ) = None
    voltage_v: (
        Annotated[
            float, field("Rated voltage.", "V", above=0, most=1_000, usual=(5, 400), example=24, touches="electrical")
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
                example=20.4,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    running_a: (
        Annotated[
            float,
            field("Current while moving.", "A", least=0, most=100, usual=(0.01, 20), example=0.9, touches="electrical"),
        ]
        | None
    ) = None
    peak_a: (
        Annotated[
            float,
            field(
                "Current at start or cut-off.",
                "A",
                least=0,
                most=100,
                usual=(0.01, 30),
                example=1.4,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    idle_a: (
        Annotated[
            float,
            field("Current at rest.", "A", least=0, most=100, usual=(0.0001, 3), example=0.02, touches="electrical"),
        ]
        | None
    ) = None
    bus_unit_load: (
        Annotated[
            float,
            field("Load on the bus, in RS-485 unit loads.", least=0, most=100, example=0.25, touches="electrical"),
        ]
        | None
    ) = None
    along_hinge_max_mm: (
        Annotated[
            float,
            field(
                "Longest sash, along its hinge, that one actuator serves.",
                "mm",
                above=0,
                most=20_000,
                usual=(200, 5_000),
                example=1000,
                touches="safety",
            ),
        ]
        | None
    ) = None
    hinge_to_edge_min_mm: (
        Annotated[
            float,
            field(
                "Shortest sash, hinge to edge, that needs no pivot brackets.",
                "mm",
                above=0,
                most=20_000,
                usual=(100, 3_000),
                example=450,
                touches="safety",
            ),
        ]
        | None
    ) = None
    sync: (
        Annotated[
            Literal["wire", "bus", "none"],
            field("How the actuators of one sash keep step.", example="wire", touches="electrical"),
        ]
        | None
    ) = None
    duty_percent: (
        Annotated[
            float, field("Share of the time it may move.", "%", above=0, most=100, example=30, touches="electrical")
        ]
        | None
    ) = None
    voltage_max_v: (
        Annotated[
            float,
            field(
                "Highest voltage it bears.",
                "V",
                above=0,
                most=1_500,
                usual=(5, 500),
                example=28.8,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    speed_fire_mm_s: (
        Annotated[
            float,
            field(
                "Speed of travel on a fire command.",
                "mm/s",
                above=0,
                most=1_000,
                usual=(0.5, 200),
                example=10,
                touches="safety",
            ),
        ]
        | None
    ) = None
    at_m: AtM | None = None
    serial_pattern: SerialPattern | None = None
    cost: Cost | None = None
    maintenance: Maintenance | None = None
