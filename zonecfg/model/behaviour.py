"""The settings: who moves with whom, and what the weather does to them."""

from typing import Annotated, Literal

from zonecfg.model.fields import Part, field, refers, text


class Group(Part, frozen=True, kw_only=True):
    """Actuators that move together."""

    id: str
    name: (
        Annotated[
            str,
            text("What people call the group.", example="Studio, south clerestory", as_written=True, touches="record"),
        ]
        | None
    ) = None
    controller: (
        Annotated[
            str,
            refers(
                "controllers",
                "Controller that holds the group; needed where the site has several.",
                example="C-1",
            ),
        ]
        | None
    ) = None
    actuators: (
        Annotated[
            tuple[str, ...],
            refers(
                "actuators",
                "Members, one id a line.",
                required=True,
                example=["A-01a", "A-01b"],
                exclusive=True,
            ),
        ]
        | None
    ) = None


class WetWeather(Part, frozen=True, kw_only=True):
    """What a group does while a linked rain sensor is wet."""

    id: str
    open_percent: (
        Annotated[
            float,
            field(
                "At most this open, of the set stroke; rain never opens a window.",
                "%",
                least=0,
                most=100,
                required=True,
                example=10,
            ),
        ]
        | None
    ) = None
    when_dry: (
        Annotated[Literal["stay", "return"], field("Whether the group goes back to where it was.", example="return")]
        | None
    ) = None
    dry_minutes: (
        Annotated[
            float,
            field("How long all linked sensors must have been dry.", "min", least=0, most=100_000, example=15),
        ]
        | None
    ) = None


class StrongWind(Part, frozen=True, kw_only=True):
    """What a group does once the wind is calm again; while it blows the group is closed."""

    id: str
    when_calm: (
        Annotated[Literal["stay", "return"], field("Whether the group goes back to where it was.", example="stay")]
        | None
    ) = None
    calm_minutes: (
        Annotated[
            float,
            field("How long all linked sensors must have been calm.", "min", least=0, most=100_000, example=10),
        ]
        | None
    ) = None
