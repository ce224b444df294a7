"""The sensors: what sees the weather."""

from typing import Annotated, Literal

from zonecfg.model.common import AtM, Cost, Maintenance, SerialPattern
from zonecfg.model.fields import Part, field, label, refers


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
        Annotated[
            float, field("Wind from which its groups close.", "m/s", above=0, most=100, usual=(2, 40), example=14)
        ]
        | None
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
            field(
                "Current it draws, heating included.",
                "A",
                least=0,
                most=100,
                usual=(0.0005, 5),
                example=0.05,
                touches="electrical",
            ),
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
    voltage_min_v: (
        Annotated[
            float,
            field(
                "Lowest voltage it still works at.",
                "V",
                above=0,
                most=1_000,
                usual=(4, 400),
                example=18,
                touches="electrical",
            ),
        ]
        | None
    ) = None
    at_m: AtM | None = None
    serial_pattern: SerialPattern | None = None
    cost: Cost | None = None
    maintenance: Maintenance | None = None
