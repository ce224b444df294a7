"""A moving edge is in reach, and nothing keeps hands out of it.

Why
    A closing sash stops for a hand only if something tells it to. Holding a switch down protects
    only while a person is the one who moves the window; a warning signal alone protects nobody.
    The side edges of a sash close too, from its sill up; and its outside face is in reach where
    people pass outside (access_outside).
Wrong
    openings:
      W-11: {type: bedroom-900, room: guest-1, sill_mm: 800}      # no protection
Right
    Fit a pressure-sensitive edge or a light curtain, or record that the risk was assessed.

        openings:
          W-11: {type: bedroom-900, room: guest-1, sill_mm: 800, protection: [pressure-edge]}
"""

from collections.abc import Iterator
from math import inf

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.unread import undeclared, unread
from zonecfg.model.opening import Opening
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

REACH_MM = 2500.0
SUFFICE = frozenset({"pressure-edge", "light-curtain", "assessed"})

CHECK = Check(
    "finger-trap",
    "warning",
    source="EN and IEC 60335-2-103 as trade associations read it: edges more than 2.5 m above the floor, and those "
    "moved while a switch is held, are outside the measures against trapping",
    needs=("openings", "actuators", "groups", "rooms"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong, one finding a room."""
    yield from undeclared(site, "access_outside")
    rooms: dict[str, list[tuple[Opening, str]]] = {}
    for key in site.actuators_of:
        if key not in site.openings:
            continue
        opening = site.openings[key]
        there = set(opening.protection or ())
        if there & SUFFICE:
            continue
        lost = unread(site, "openings", key, "protection", "access_outside")
        edge, outside = opening.sill_mm, _outside_mm(opening)
        if edge is None or opening.room is None or lost is not None or isinstance(outside, Unknown):
            named = "room" if opening.room is None else "sill_mm"
            yield lost or (outside if isinstance(outside, Unknown) else Unknown(f"{named} is not given", (key,)))
            continue
        if min(edge, outside) > REACH_MM:
            continue
        weather = _moved_by_weather(site, key)
        if "hold-to-run" in there and not weather:
            if not site.links_known:
                yield Unknown("it is not known whether rain or wind can move it", (key,))
            continue
        why = "nothing protects it"
        if there:
            why = f"{weather} can move it unattended" if "hold-to-run" in there else "a warning signal alone does not"
        rooms.setdefault(opening.room, []).append((opening, why))
    for room, found in rooms.items():
        traps = sorted(found, key=lambda trap: trap[0].id)
        edges = listed(f"{opening.id} at {_where(opening)} ({why})" for opening, why in traps)
        first, *others = (site.at("openings", opening.id, "protection") for opening, _ in traps)
        yield Problem(
            f"rooms/{room}",
            first,
            f"{room}: moving edges within {REACH_MM / 1000:g} m of the floor: {edges}; "
            "fit pressure-edge or light-curtain, or record it as assessed",
            tuple(others),
            subjects=(f"rooms/{room}", *(f"openings/{opening.id}" for opening, _ in traps)),
        )


def _outside_mm(opening: Opening) -> float | Unknown:
    """Height of the lowest edge above the ground outside, where people pass there; out of reach where none do."""
    if not opening.access_outside:
        return inf
    if opening.drop_mm is None or opening.sill_mm is None:
        return Unknown("drop_mm or sill_mm is not given, and people pass outside", (opening.id,))
    return opening.drop_mm + opening.sill_mm


def _where(opening: Opening) -> str:
    """Say how high the lowest edge is, inside or outside."""
    sill = opening.sill_mm or 0.0
    if sill <= REACH_MM:
        return f"{sill:.0f} mm"
    return f"{sill + (opening.drop_mm or 0.0):.0f} mm above the ground outside"


def _moved_by_weather(site: Site, opening: str) -> str:
    groups = dict.fromkeys(g for a in site.actuators_of[opening] for g in site.groups_of.get(a, ()))
    return listed(sorted({sensor for group in groups for sensor in site.sensors_of.get(group, ())}))
