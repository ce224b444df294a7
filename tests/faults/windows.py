"""Windows that a fault can be planted at, and the rules they are held against."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planting import (
    CannotPlant,
    in_wall,
    pick,
    singles,
    use_of,
)

if TYPE_CHECKING:
    import random

Data = dict[str, Any]


def falls_rule(data: Data) -> str:
    """Name the fall rule of the plan."""
    return str(data["site"]["rules"]["falls"])


def air_rule(data: Data) -> str:
    """Name the ventilation rule of the plan."""
    return str(data["site"]["rules"]["ventilation"])


def needs(condition: bool) -> None:
    """Refuse a site that has no place for the fault."""
    if not condition:
        raise CannotPlant


def single_window(data: Data, chance: random.Random) -> str:
    """Choose a wall window with one actuator that nothing special is asked of."""
    openings = (data["actuators"][a]["opening"] for a in singles(data))
    plain = [o for o in openings if in_wall(data, o) and not {"escape", "smoke_vent"} & data["openings"][o].keys()]
    return pick(chance, (o for o in plain if use_of(data, o) != "bedroom"))


def child_window(data: Data, chance: random.Random) -> str:
    """Choose a window that the rule lets nothing through of the size of its sphere."""
    falls = falls_rule(data)
    needs(falls != "ADK-2013")
    drops = {"NCC-2022-D3D29": 2000, "IRC-R312.2": 1830, "BS-8213-1": 1}
    highest_sill = {"NCC-2022-D3D29": 1699, "IRC-R312.2": 609}.get(falls, 10_000)
    asked = (
        opening
        for opening, own in data["openings"].items()
        if own["drop_mm"] >= drops[falls]
        and own["sill_mm"] <= highest_sill
        and (use_of(data, opening) == "bedroom" or falls in ("BS-8213-1", "IRC-R312.2"))
    )
    return pick(chance, (o for o in asked if in_wall(data, o)))
