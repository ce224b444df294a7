"""The equipment: actuators, controllers, sensors, supplies, and the cables between them."""

from typing import Annotated, Literal

from zonecfg.model.fields import Part, field, label, refers, text

Setting = Literal["groups", "links", "wet_weather", "strong_wind"]
Duty = Literal["power", "bus", "sync", "common", "contact"]


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
        Annotated[float, field("Stroke as set.", "mm", above=0, most=5_000, example=300, touches="safety")] | None
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
            float, field("Longest stroke it can be set to.", "mm", above=0, most=5_000, example=350, touches="safety")
        ]
        | None
    ) = None
    thrust_n: (
        Annotated[
            float, field("Force it pushes and pulls with.", "N", above=0, most=50_000, example=250, touches="safety")
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
                example=300,
                touches="safety",
            ),
        ]
        | None
    ) = None
    hold_n: (
        Annotated[
            float, field("Force it holds against at rest.", "N", above=0, most=100_000, example=300, touches="safety")
        ]
        | None
    ) = None
    speed_mm_s: Annotated[float, field("Speed of travel.", "mm/s", above=0, most=1_000, example=6)] | None = None
    voltage_v: (
        Annotated[float, field("Rated voltage.", "V", above=0, most=1_000, example=24, touches="electrical")] | None
    ) = None
    voltage_min_v: (
        Annotated[
            float,
            field("Lowest voltage it still works at.", "V", above=0, most=1_000, example=20.4, touches="electrical"),
        ]
        | None
    ) = None
    running_a: (
        Annotated[float, field("Current while moving.", "A", least=0, most=100, example=0.9, touches="electrical")]
        | None
    ) = None
    peak_a: (
        Annotated[
            float, field("Current at start or cut-off.", "A", least=0, most=100, example=1.4, touches="electrical")
        ]
        | None
    ) = None
    idle_a: (
        Annotated[float, field("Current at rest.", "A", least=0, most=100, example=0.02, touches="electrical")] | None
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
        Annotated[float, field("Current it draws.", "A", least=0, most=100, example=0.15, touches="electrical")] | None
    ) = None
    output_a: (
        Annotated[
            float,
            field("Current it passes on to actuators.", "A", above=0, most=1_000, example=10, touches="electrical"),
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


class Sensor(Part, frozen=True, kw_only=True):
    """What sees the weather."""

    id: str
    type: (
        Annotated[
            str,
            refers("types.sensors", "Type of the sensor.", required=True, example="rain-plate", touches="operation"),
        ]
        | None
    ) = None
    controller: (
        Annotated[
            str,
            refers(
                "controllers",
                "Controller it reports to, where cables and links do not say.",
                example="C-1",
                touches="operation",
            ),
        ]
        | None
    ) = None
    facade_deg: (
        Annotated[float, field("Bearing it faces, clockwise from north.", "°", least=0, most=360, example=180)] | None
    ) = None
    room: Annotated[str, refers("rooms", "Room it is wired from.", example="studio", touches="operation")] | None = None
    serial: Annotated[str, label("Serial number, as on the label.", example="51200417", touches="record")] | None = None
    measures: Annotated[Literal["rain", "wind"], field("What it sees.", example="rain")] | None = None
    connects: (
        Annotated[Literal["bus", "contact"], field("How it reports.", example="bus", touches="electrical")] | None
    ) = None
    wind_above_m_s: (
        Annotated[float, field("Wind from which its groups close.", "m/s", above=0, most=100, example=14)] | None
    ) = None
    if_lost: (
        Annotated[
            Literal["wet", "dry", "fault"],
            field("What the controller takes it for when it falls silent.", example="wet"),
        ]
        | None
    ) = None
    responds_s: (
        Annotated[float, field("Time from the first drops to its report.", "s", least=0, most=3_600, example=2)] | None
    ) = None
    running_a: (
        Annotated[
            float,
            field("Current it draws, heating included.", "A", least=0, most=100, example=0.05, touches="electrical"),
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
    output_v: Annotated[float, field("Rated voltage.", "V DC", above=0, most=1_500, example=24)] | None = None
    output_min_v: (
        Annotated[
            float,
            field(
                "Voltage at full load or at the end of the battery; output_v where not given.",
                "V DC",
                above=0,
                most=1_500,
                example=22.5,
            ),
        ]
        | None
    ) = None
    output_a: Annotated[float, field("Current it can deliver.", "A", above=0, most=10_000, example=10)] | None = None
    fuse_a: Annotated[float, field("Fuse at its output.", "A", above=0, most=10_000, example=10)] | None = None


class Junction(Part, frozen=True, kw_only=True):
    """A box where cables meet."""

    id: str
    room: Annotated[str, refers("rooms", "Room the box is in.", example="studio")] | None = None


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
        Annotated[float, field("Length, one way.", "m", least=0, most=100_000, required=True, example=9)] | None
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
        Annotated[float, field("Cross-section of a conductor.", "mm²", above=0, most=1_000, example=2.5)] | None
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
        Annotated[float, field("Current the cable may carry.", "A", above=0, most=10_000, example=16)] | None
    ) = None
