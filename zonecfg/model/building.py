"""The building: the site, its rooms, and the openings with their sashes."""

from typing import Annotated, Literal

from zonecfg.model.fields import Part, day, field, refers, section, text

Hinge = Literal["top-hung", "bottom-hung", "side-hung", "centre-pivot", "other"]
Opens = Literal["outward", "inward"]
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
Protection = Literal["hold-to-run", "pressure-edge", "light-curtain", "warning-signal", "assessed"]


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
    floor_area_m2: Annotated[float, field("Floor area.", "m²", above=0, most=100_000, example=40)] | None = None
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


class Opening(Part, frozen=True, kw_only=True):
    """A sash in a frame."""

    id: str
    type: (
        Annotated[
            str,
            refers("types.openings", "Type the opening takes its fields from.", example="clerestory-1200"),
        ]
        | None
    ) = None
    room: (
        Annotated[str, refers("rooms", "Room the opening serves.", required=True, example="studio", touches="air")]
        | None
    ) = None
    hinge: (
        Annotated[
            Hinge,
            field(
                "Where the sash turns; `other` covers louvre, sliding and parallel windows.",
                example="top-hung",
            ),
        ]
        | None
    ) = None
    opens: Annotated[Opens, field("Which way the sash moves.", example="outward")] | None = None
    width_mm: Annotated[float, field("Width of the sash.", "mm", above=0, most=20_000, example=1200)] | None = None
    height_mm: (
        Annotated[float, field("Height of the sash, along its plane.", "mm", above=0, most=20_000, example=700)] | None
    ) = None
    sash_mass_kg: (
        Annotated[float, field("Mass of the sash with its glass.", "kg", above=0, most=5_000, example=24)] | None
    ) = None
    glass_mm: (
        Annotated[
            float,
            field(
                "Thickness of all panes together; the mass is estimated from it where sash_mass_kg is not given.",
                "mm",
                above=0,
                most=200,
                example=8,
            ),
        ]
        | None
    ) = None
    pitch_deg: (
        Annotated[
            float,
            field(
                "Pitch of the plane from horizontal; 90, a wall, where not given.",
                "°",
                least=0,
                most=90,
                example=35,
            ),
        ]
        | None
    ) = None
    actuator_at_mm: (
        Annotated[
            float,
            field(
                "From the hinge axis to where the actuators take hold; the closing edge where not given.",
                "mm",
                above=0,
                most=20_000,
                example=650,
            ),
        ]
        | None
    ) = None
    facade_deg: (
        Annotated[
            float,
            field(
                "Bearing the opening faces, clockwise from north.",
                "°",
                least=0,
                most=360,
                example=180,
                touches="weather",
            ),
        ]
        | None
    ) = None
    sill_mm: (
        Annotated[
            float,
            field("Floor to the lowest edge that opens.", "mm", least=-20_000, most=100_000, example=800),
        ]
        | None
    ) = None
    drop_mm: (
        Annotated[
            float,
            field("Floor level down to the surface outside.", "mm", least=-100_000, most=1_000_000, example=3100),
        ]
        | None
    ) = None
    stays: (
        Annotated[Literal["none", "non-friction", "friction"], field("Stays fitted to the sash.", example="none")]
        | None
    ) = None
    friction_n: (
        Annotated[
            float,
            field("Force the stays hold the sash with, at the actuators.", "N", least=0, most=10_000, example=60),
        ]
        | None
    ) = None
    pivot_brackets: (
        Annotated[bool, field("Whether the actuators sit on brackets that turn with the chain.", example=True)] | None
    ) = None
    screen: (
        Annotated[
            Literal["none", "insect", "guard"],
            field(
                "Screen in the opening; a guard keeps people from reaching or falling through.",
                example="guard",
            ),
        ]
        | None
    ) = None
    barrier_mm: (
        Annotated[
            float,
            field(
                "Height of a barrier in front of the opening, above the floor.",
                "mm",
                least=0,
                most=10_000,
                example=1000,
            ),
        ]
        | None
    ) = None
    limit_by: (
        Annotated[
            Literal["actuator", "restrictor", "release-by-tool"],
            field("What keeps the sash from opening further.", example="restrictor"),
        ]
        | None
    ) = None
    protection: (
        Annotated[
            tuple[Protection, ...],
            field("What keeps hands out of the moving edge.", example=["pressure-edge"]),
        ]
        | None
    ) = None
    lock: Annotated[Literal["none", "hand", "motor"], field("Lock on the sash.", example="none")] | None = None
    sheltered: (
        Annotated[bool, field("Whether rain cannot reach the opening.", example=True, touches="weather")] | None
    ) = None
    smoke_vent: Annotated[bool, field("Whether the opening lets smoke out in a fire.", example=True)] | None = None
    smoke_stroke_mm: (
        Annotated[float, field("Stroke the fire strategy asks for.", "mm", above=0, most=5_000, example=500)] | None
    ) = None
    escape: Annotated[bool, field("Whether people leave through this opening in a fire.", example=True)] | None = None
    hand_release: (
        Annotated[
            Literal["none", "tool", "hand"],
            field("How the sash is freed from its actuators.", example="hand"),
        ]
        | None
    ) = None
    seal_n_per_m: (
        Annotated[
            float,
            field(
                "Force of the seal along the sash's edge, in the last 5 mm.",
                "N/m",
                least=0,
                most=2_000,
                example=20,
            ),
        ]
        | None
    ) = None
