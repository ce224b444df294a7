"""What a room would have for air, were its sashes opened as far as the fall rule allows."""

from collections.abc import Mapping

from msgspec import Struct

from zonecfg.figures.falls import FallFigures
from zonecfg.figures.openings import OpeningFigures, opened_to
from zonecfg.figures.rooms import RoomFigures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown
from zonecfg.rules import VentilationRule


class AtLimit(Struct, frozen=True, gc=False):
    """A room at its fall limit: the openings that are limited, and the area then free and counted [m²]."""

    openings: tuple[str, ...]
    free_m2: float
    counted_m2: float


def at_fall_limit(
    site: Site,
    room_id: str,
    room: RoomFigures,
    openings: Mapping[str, OpeningFigures],
    falls: Mapping[str, FallFigures],
    rule: VentilationRule,
) -> AtLimit | Unknown | None:
    """Open the limited sashes of a room to the largest stroke allowed, the others as they are set.

    Returns
    -------
    AtLimit, Unknown or None
        None where the fall rule limits no sash of the room, or a guard screen stands before each it would.
    """
    asked = [key for key in room.openings if site.openings[key].screen != "guard"]
    unsettled = next((reason for key in asked if (reason := falls[key].unknown) is not None), None)
    limited = tuple(key for key in asked if falls[key].limits_gap)
    if unsettled is not None or not limited:
        return unsettled
    other = site.rooms[room_id].other_openings_m2 or 0.0
    if (lost := unread(site, "rooms", room_id, "other_openings_m2")) is not None:
        return lost
    free = counted = other
    for key in room.openings:
        opening, opened, largest = site.openings[key], openings[key].opened, falls[key].largest_stroke_mm
        if key in limited and largest is not None:
            opened = opened_to(opening, largest)
        if opened is None:
            return openings[key].unknown or Unknown("what the sash opens is not known", (key,))
        free += opened.free_m2
        counted += opened.clear_m2 * (rule.counted_share(opened.angle_deg) or 0.0)
    return AtLimit(limited, free, counted)
