"""The openings with their sashes."""

from typing import Annotated, Literal

from zonecfg.model.common import AtM, Maintenance
from zonecfg.model.fields import Part, field, refers, text

Hinge = Literal["top-hung", "bottom-hung", "side-hung", "centre-pivot", "other"]
Opens = Literal["outward", "inward"]
Protection = Literal["hold-to-run", "pressure-edge", "light-curtain", "warning-signal", "assessed"]


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
    width_mm: (
        Annotated[
            float,
            field("Width of the sash.", "mm", above=0, most=20_000, possible=100, usual=(200, 5_000), example=1200),
        ]
        | None
    ) = None
    height_mm: (
        Annotated[
            float,
            field(
                "Height of the sash, along its plane.",
                "mm",
                above=0,
                most=20_000,
                possible=100,
                usual=(200, 5_000),
                example=700,
            ),
        ]
        | None
    ) = None
    sash_mass_kg: (
        Annotated[
            float, field("Mass of the sash with its glass.", "kg", above=0, most=5_000, usual=(1, 600), example=24)
        ]
        | None
    ) = None
    glass_mm: (
        Annotated[
            float,
            field(
                "Thickness of all panes together; the mass is estimated from it where sash_mass_kg is not given.",
                "mm",
                above=0,
                most=200,
                usual=(2, 80),
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
                usual=(50, 5_000),
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
            field(
                "Floor to the lowest edge that opens.",
                "mm",
                least=-20_000,
                most=100_000,
                usual=(15, 20_000),
                example=800,
            ),
        ]
        | None
    ) = None
    drop_mm: (
        Annotated[
            float,
            field(
                "Floor level down to the surface outside.",
                "mm",
                least=-100_000,
                most=1_000_000,
                usual=(15, 300_000),
                example=3100,
            ),
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
            field(
                "Force the stays hold the sash with, at the actuators.",
                "N",
                least=0,
                most=10_000,
                usual=(2, 2_000),
                example=60,
            ),
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
                usual=(100, 3_000),
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
        Annotated[
            float,
            field("Stroke the fire strategy asks for.", "mm", above=0, most=5_000, usual=(50, 2_000), example=500),
        ]
        | None
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
                usual=(1, 500),
                example=20,
            ),
        ]
        | None
    ) = None
    axis: (
        Annotated[
            Literal["horizontal", "vertical"],
            field("Axis that a centre pivot turns about.", example="horizontal", touches="safety"),
        ]
        | None
    ) = None
    pivot_coefficient: (
        Annotated[
            float,
            field(
                "Difference of wind pressure between the halves of a centre pivot over the pressure of the wind.",
                least=0,
                most=4,
                example=0.5,
                touches="safety",
            ),
        ]
        | None
    ) = None
    foothold_mm: (
        Annotated[
            float,
            field(
                "Height above the floor of the highest thing below 760 mm that somebody could climb on; 0 for none.",
                "mm",
                least=0,
                most=10_000,
                example=450,
                touches="safety",
            ),
        ]
        | None
    ) = None
    child_resistant_release: (
        Annotated[
            bool, field("Whether a child cannot free the sash from what limits it.", example=True, touches="safety")
        ]
        | None
    ) = None
    over_walkway: (
        Annotated[bool, field("Whether people pass below the open sash.", example=True, touches="safety")] | None
    ) = None
    access_outside: (
        Annotated[bool, field("Whether people pass the outside face within reach.", example=True, touches="safety")]
        | None
    ) = None
    screen_opens: (
        Annotated[bool, field("Whether the screen opens without a tool.", example=True, touches="safety")] | None
    ) = None
    screen_free_percent: (
        Annotated[
            float, field("Share of an insect screen that is hole.", "%", above=0, most=100, example=60, touches="air")
        ]
        | None
    ) = None
    fire_stroke_mm: (
        Annotated[
            float,
            field(
                "Stroke that the fire command opens to, where it goes further than the set stroke.",
                "mm",
                above=0,
                most=5_000,
                usual=(50, 2_000),
                example=500,
                touches="safety",
            ),
        ]
        | None
    ) = None
    maintenance: Maintenance | None = None
    at_m: AtM | None = None
    ref: (
        Annotated[
            str,
            text(
                "Id of the opening in a schedule or a building model.",
                example="2O2Fr$t4X7Zf8NOew3FLOH",
                as_written=True,
                touches="record",
            ),
        ]
        | None
    ) = None
