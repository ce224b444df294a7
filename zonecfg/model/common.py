"""Fields that things of several sections have alike, declared once."""

from typing import Annotated

from zonecfg.model.fields import field, label

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
SerialPattern = Annotated[
    str,
    label("Regular expression that serial numbers of this type match.", example=r"70\d{6}", touches="record"),
]
Cost = Annotated[
    float,
    field("A plain number to order types by, in whatever money.", least=0, most=1e9, example=180, touches="record"),
]
