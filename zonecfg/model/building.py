"""The place: the site, the rules it is judged by, and its rooms."""

from typing import Annotated, Literal

from zonecfg.model.common import AtM, Line
from zonecfg.model.fields import Part, day, field, section, text

Use = Literal[
    "bedroom",
    "childcare",
    "living",
    "kitchen",
    "bath",
    "care",
    "office",
    "assembly",
    "teaching",
    "circulation",
    "other",
]


class Rules(Part, frozen=True, kw_only=True):
    """The published rules the designer chose to be judged by."""

    falls: (
        Annotated[
            str,
            text(
                "Rule set for falls through windows.", example="NCC-2022-D3D29", touches="safety", refers="rules.falls"
            ),
        ]
        | None
    ) = None
    ventilation: (
        Annotated[
            str,
            text(
                "Rule set for the opening area of rooms.",
                example="NCC-2022-HP-10.6.2",
                touches="air",
                refers="rules.ventilation",
            ),
        ]
        | None
    ) = None
    escape: (
        Annotated[
            str, text("Rule set for escape windows.", example="ADB-ESCAPE", touches="safety", refers="rules.escape")
        ]
        | None
    ) = None


class SiteInfo(Part, frozen=True, kw_only=True):
    """What the whole site has in common."""

    name: (
        Annotated[str, text("What the building is called.", required=True, example="Larkenby Hall", as_written=True)]
        | None
    ) = None
    reference: Annotated[str, text("The project's own number.", example="LKH-2207", as_written=True)] | None = None
    revision: Annotated[str, text("Revision of this plan.", example="C", as_written=True)] | None = None
    date: Annotated[str, day("When this state was drawn up.")] | None = None
    wind_m_s: (
        Annotated[
            float,
            field(
                "Gust at the windows' height that the sashes must still move against.",
                "m/s",
                least=0,
                most=100,
                usual=(0.5, 60),
                example=12,
                touches="safety",
            ),
        ]
        | None
    ) = None
    outdoor_c: (
        Annotated[
            float,
            field(
                "Outdoor temperature that air flow is computed for.",
                "°C",
                least=-60,
                most=60,
                example=24,
                touches="air",
            ),
        ]
        | None
    ) = None
    indoor_c: (
        Annotated[
            float,
            field(
                "Indoor temperature that air flow is computed for.", "°C", least=-60, most=60, example=27, touches="air"
            ),
        ]
        | None
    ) = None
    rules: Annotated[Rules, section("The published rules the designer chose to be judged by.")] | None = None
    ventilation_wind_m_s: (
        Annotated[
            float,
            field(
                "Mean wind that air flow is computed for; never the gust.",
                "m/s",
                least=0,
                most=50,
                usual=(0.2, 15),
                example=2.5,
                touches="air",
            ),
        ]
        | None
    ) = None
    storm_wind_m_s: (
        Annotated[
            float,
            field(
                "Gust that closed sashes must be held against.",
                "m/s",
                least=0,
                most=120,
                usual=(5, 80),
                example=30,
                touches="safety",
            ),
        ]
        | None
    ) = None
    storm_suction: (
        Annotated[
            float,
            field(
                "Suction on a closed sash in the storm over the pressure of its wind, internal pressure included.",
                least=0,
                most=5,
                example=1.0,
                touches="safety",
            ),
        ]
        | None
    ) = None
    storm_pressure: (
        Annotated[
            float,
            field(
                "Pressure on a closed sash in the storm over the pressure of its wind, internal pressure included.",
                least=0,
                most=5,
                example=1.0,
                touches="safety",
            ),
        ]
        | None
    ) = None
    snow_kpa: (
        Annotated[
            float,
            field(
                "Snow load on the ground.", "kPa", least=0, most=50, usual=(0.05, 15), example=0.75, touches="safety"
            ),
        ]
        | None
    ) = None
    parties: (
        Annotated[
            dict[str, Annotated[str, text("Who, by role.", example="N. Ashby")]],
            field("Who has which part in the project, by role.", example={"designer": "N. Ashby"}, touches="record"),
        ]
        | None
    ) = None
    risers: (
        Annotated[
            dict[str, Annotated[tuple[float, ...], field("Where it is: x and y, in metres.", ordered=True)]],
            field(
                "Where cables go from storey to storey, by id, in metres.",
                example={"east": [3.0, 4.5]},
                touches="record",
            ),
        ]
        | None
    ) = None
    address: (
        Annotated[str, text("Where the building stands.", example="1 Larkenby Rise", as_written=True, touches="record")]
        | None
    ) = None


class Room(Part, frozen=True, kw_only=True):
    """A room: what its windows serve."""

    id: str
    name: (
        Annotated[str, text("What people call the room.", example="Studio hall", as_written=True, touches="record")]
        | None
    ) = None
    storey: (
        Annotated[int, field("Storey, counted from the ground floor, which is 0.", least=-20, most=300, example=1)]
        | None
    ) = None
    use: (
        Annotated[
            Use,
            field("What the room is used for; fall and air rules depend on it.", example="bedroom", touches="safety"),
        ]
        | None
    ) = None
    floor_area_m2: (
        Annotated[float, field("Floor area.", "m²", above=0, most=100_000, usual=(1, 5_000), example=40)] | None
    ) = None
    other_openings_m2: (
        Annotated[
            float,
            field(
                "Opening area of windows and doors that no actuator moves.",
                "m²",
                least=0,
                most=10_000,
                example=0.8,
            ),
        ]
        | None
    ) = None
    mechanical_air: (
        Annotated[bool, field("Whether machines supply the air, so that no opening area is asked.", example=True)]
        | None
    ) = None
    outline: Line | None = None
    at_m: AtM | None = None
