"""Small plants whose serials nobody wrote down, and what an observer sees in them."""

from __future__ import annotations

import itertools
from typing import Any

from plans import plan, site_of

from zonecfg.figures import Figures
from zonecfg.identify.code_words import code
from zonecfg.identify.found import OnBus
from zonecfg.identify.limits import UnitLimits
from zonecfg.identify.rounds import course, spread
from zonecfg.identify.units import parting

Data = dict[str, Any]
SERIAL = 7000


def plant(sizes: list[int], *, cables: bool = True, **sections: Any) -> Data:
    """Give a plan with a window for each size, moved by so many actuators ``A-1-1``, ``A-1-2``; ``W-1`` is the first.

    All hang on one controller and one supply, in a line. Strokes are 300 mm at 6 mm/s: 50 s.
    """
    names = [f"A-{w}-{n}" for w, size in enumerate(sizes, 1) for n in range(1, size + 1)]
    data = plan(
        types_actuators={"chain": {"speed_mm_s": 6}},
        openings={f"W-{w}": {"type": "sash", "room": "room", "sill_mm": 2600, "drop_mm": 300} for w in range(1, len(sizes) + 1)},
        controllers={"C-1": {"type": "hall"}},
        supplies={"PS-1": {"type": "psu"}},
        cables={
            f"K-{number}": {"from": a, "to": b, "length_m": 2, "type": "pair", "carries": ["power", "bus"]}
            for number, (a, b) in enumerate(itertools.pairwise(["PS-1", "C-1", *names]))
        }
        if cables
        else {},
    )  # fmt: skip
    data["actuators"] = {
        name: {"type": "chain", "opening": f"W-{name.split('-')[1]}", "stroke_mm": 300} for name in names
    }
    data["groups"] = {"G": {"actuators": names}}
    for name, values in sections.items():
        for key, fields in values.items():
            data.setdefault(name, {}).setdefault(key, {}).update(fields)
    return data


def serials_of(data: Data) -> dict[str, str]:
    """Give each actuator the serial it really has; in no order of the plan."""
    names = sorted(data["actuators"], key=lambda name: name[::-1])
    return {name: str(SERIAL + number) for number, name in enumerate(names)}


def on_the_bus(data: Data, *, sets: bool = True, typed: bool = False, controller: str | None = None) -> list[OnBus]:
    """Read the bus: every serial, with its set where several move a sash."""
    openings = [fields["opening"] for fields in data["actuators"].values()]
    return [
        OnBus(
            serial=serial,
            row=row,
            controller=controller,
            type=data["actuators"][name]["type"] if typed else None,
            set=opening if sets and openings.count(opening) > 1 else None,
        )
        for row, (name, serial) in enumerate(sorted(serials_of(data).items(), key=lambda pair: pair[1]), 2)
        for opening in [data["actuators"][name]["opening"]]
    ]


def parted(data: Data, found: list[OnBus], **more: Any) -> Any:
    """Tell who takes part."""
    return parting(site_of(data), found, found_name="found.csv", **more)


def planned(data: Data, found: list[OnBus], *, levels: int = 2, distance: int = 2) -> tuple[Any, Any, Any, UnitLimits]:
    """Give who takes part, the code, the course and the limits."""
    who = parted(data, found)
    assert not who.first, who.first
    made = code(len(who.units), levels=levels, distance=distance)
    limits = UnitLimits(Figures(site_of(data)), who)
    words = spread(who.units, made.words)
    made = type(made)(made.levels, made.distance, made.length, made.at_least, words)
    return who, made, course(who, made, limits), limits
