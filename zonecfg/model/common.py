"""Fields that things of several sections have alike, declared once."""

from typing import Annotated

from zonecfg.model.fields import Part, field, label, section, text

AtM = Annotated[
    tuple[float, ...],
    field(
        "Where it is in the building: x, y and height; of a sash its centre.",
        "m",
        ordered=True,
        example=[12.4, 3.1, 2.6],
        touches="record",
    ),
]
Line = Annotated[
    tuple[tuple[float, ...], ...],
    field("Points one after the other, in metres.", ordered=True, example=[[0, 0, 2.6], [6, 0, 2.6]], touches="record"),
]


class Upkeep(Part, frozen=True, kw_only=True):
    """Something that has to be done again and again."""

    do: Annotated[str, text("What.", required=True, example="Clean the rain plate.")] | None = None
    every_months: (
        Annotated[float, field("How often, in months.", above=0, most=1200, required=True, example=12)] | None
    ) = None


Maintenance = Annotated[
    tuple[Upkeep, ...],
    section(
        "What its maker asks to be done, and how often.",
        touches="record",
        known_by=("do",),
        example=[{"do": "Clean the rain plate.", "every_months": 12}],
    ),
]
SerialPattern = Annotated[
    str,
    label("Regular expression that serial numbers of this type match.", example=r"70\d{6}", touches="record"),
]
Cost = Annotated[
    float,
    field("A plain number to order types by, in whatever money.", least=0, most=1e9, example=180, touches="record"),
]
