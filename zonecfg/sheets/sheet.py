"""The worksheet of one state: every row in the order somebody walks through the building."""

import re
from collections.abc import Iterable

from msgspec import Struct

from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown
from zonecfg.results.words import counted
from zonecfg.sheets.advice import Advice, advice
from zonecfg.sheets.columns import WORKSHEET, Form

Row = dict[str, str | int | float | None]
_WINDS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
_LAST = 10_000.0
Place = tuple[float, str, float, tuple[tuple[int, int, str], ...]]


class Identity(Struct, frozen=True, kw_only=True):
    """Which plan a sheet is of, so that one of another site or revision is recognised."""

    site: str
    revision: str
    key: str = ""
    """What else it was made of, where its form says so."""

    @classmethod
    def of(cls, site: Site) -> "Identity":
        """Identity of a plan: its reference, or its name where it has none."""
        return cls(site=site.info.reference or site.info.name or "", revision=site.info.revision or "")


class Sheet(Struct, frozen=True, kw_only=True):
    """What goes to site."""

    form: Form = WORKSHEET
    identity: Identity
    name: str
    advice: Advice
    tables: dict[str, tuple[Row, ...]]


def sheet_of(figures: Figures) -> Sheet:
    """Make the worksheet of a site."""
    site = figures.site
    return Sheet(
        identity=Identity.of(site),
        name=site.info.name or "",
        advice=advice(site, figures),
        tables={
            "actuators": tuple(_actuators(figures)),
            "groups": tuple(_groups(figures)),
            "sensors": tuple(_sensors(figures)),
            "controllers": tuple(_controllers(figures)),
        },
    )


def facing(degrees: float | None) -> str | None:
    """Write a bearing with its wind, ``180° S``."""
    return None if degrees is None else f"{degrees:g}° {_WINDS[round(degrees / 45) % 8]}"


def natural(thing: str) -> tuple[tuple[int, int, str], ...]:
    """Order ids as people count: A-9 before A-10."""
    return tuple((1, int(part), "") if part.isdigit() else (0, 0, part) for part in re.split(r"([0-9]{1,18})", thing))


def walk_place(site: Site, room: str | None, faces: float | None, thing: str) -> Place:
    """Where a thing comes on the way: by storey, room, facing and id."""
    home = site.rooms.get(room or "")
    storey = _LAST if home is None or home.storey is None else float(home.storey)
    return storey, _room(site, room) or "", _LAST if faces is None else faces, natural(thing)


def actuator_place(site: Site, actuator: str) -> Place:
    """Where an actuator comes on the way."""
    opening = site.openings.get(site.actuators[actuator].opening or "")
    if opening is None:
        return walk_place(site, None, None, actuator)
    return walk_place(site, opening.room, opening.facade_deg, actuator)


def _room(site: Site, room: str | None) -> str | None:
    home = site.rooms.get(room or "")
    return room if home is None else home.name or home.id


def _storey(site: Site, room: str | None) -> int | None:
    home = site.rooms.get(room or "")
    return None if home is None else home.storey


def _number(value: float | None) -> int | float | None:
    return int(value) if value is not None and value.is_integer() else value


def _listed(ids: Iterable[str]) -> str | None:
    return ", ".join(ids) or None


def _actuators(figures: Figures) -> Iterable[Row]:
    site = figures.site
    cables: dict[str, list[str]] = {}
    for cable in site.cables.values():
        for end in (cable.from_, cable.to):
            if end is not None:
                cables.setdefault(end, []).append(cable.id)
    for key in sorted(site.actuators, key=lambda key: actuator_place(site, key)):
        actuator = site.actuators[key]
        others = [a for a in site.actuators_of.get(actuator.opening or "", ()) if a != key]
        yield {
            "id": key,
            "opening": actuator.opening,
            "set_stroke_mm": _number(actuator.stroke_mm),
            **about_opening(figures, actuator.opening),
            "sash": f"{'pair' if len(others) == 1 else 'several'}, with {_listed(others)}" if others else "single",
            "group": _listed(site.groups_of.get(key, ())),
            "cables": _listed(cables.get(key, ())),
            "planned_serial": actuator.serial,
        }


def about_opening(figures: Figures, opening_id: str | None) -> Row:
    """Tell where an opening is and how it opens."""
    site = figures.site
    opening, known = site.openings.get(opening_id or ""), figures.openings.get(opening_id or "")
    room = opening.room if opening else None
    return {
        "room": _room(site, room),
        "storey": _storey(site, room),
        "faces": facing(opening.facade_deg if opening else None),
        "hinge": " ".join(filter(None, (opening.hinge, opening.opens))) if opening else None,
        "expected_gap_mm": None if known is None or known.opened is None else round(known.opened.gap_mm),
    }


def _groups(figures: Figures) -> Iterable[Row]:
    site, home = figures.site, figures.topology.controller_of_group
    first = {
        key: min((actuator_place(site, a) for a in members), default=(_LAST, "", _LAST, natural(key)))
        for key, members in site.members_of.items()
    }
    for key in sorted(site.groups, key=lambda key: (first[key], natural(key))):
        members = site.members_of[key]
        yield {
            "id": key,
            "name": site.groups[key].name,
            "controller": home.get(key),
            "members": f"{counted(len(members), 'actuator')}: {', '.join(members)}" if members else None,
        }


def _sensors(figures: Figures) -> Iterable[Row]:
    site, home = figures.site, figures.topology.controller_of_sensor
    for key in sorted(
        site.sensors, key=lambda k: walk_place(site, site.sensors[k].room, site.sensors[k].facade_deg, k)
    ):
        sensor = site.sensors[key]
        yield {
            "id": key,
            "measures": sensor.measures,
            "room": _room(site, sensor.room),
            "faces": facing(sensor.facade_deg),
            "controller": home.get(key),
            "groups": _listed(site.links.get(key, ())),
            "planned_serial": sensor.serial,
        }


def _controllers(figures: Figures) -> Iterable[Row]:
    site = figures.site
    for key in sorted(site.controllers, key=lambda key: walk_place(site, site.controllers[key].room, None, key)):
        controller = site.controllers[key]
        yield {
            "id": key,
            "room": _room(site, controller.room),
            "type": controller.type,
            "actuators": len(figures.topology.actuators_on.get(key, ())),
            "expected_ohm": None if (ohm := expected_ohm(figures, key)) is None else round(ohm, 1),
            "planned_serial": controller.serial,
        }


def expected_ohm(figures: Figures, controller: str) -> float | None:
    """Resistance across a controller's one bus; None where it cannot be computed or there are several."""
    buses = figures.buses.of_controller.get(controller, ())
    ohm = buses[0].expected_ohm if len(buses) == 1 else None
    return None if isinstance(ohm, Unknown) else ohm
