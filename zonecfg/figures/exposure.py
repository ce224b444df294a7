"""How an opening stands to the weather."""

from zonecfg.model.opening import Opening

WALL_PITCH = 60
"""Pitch from which a plane counts as a wall rather than a roof [degrees]; common practice."""

REACH_MM = 2000
"""Height above the ground outside up to which people reach an opening [mm]; common practice."""


def pitch_of(opening: Opening) -> float:
    """Pitch of the plane from horizontal [degrees]; a wall where none is given."""
    return 90.0 if opening.pitch_deg is None else opening.pitch_deg


def between(bearing: float, other: float) -> float:
    """Angle between two bearings [degrees], 0 to 180."""
    turned = abs(bearing - other) % 360
    return min(turned, 360 - turned)


def sheds_rain(opening: Opening) -> bool | None:
    """Whether an open sash covers its own opening: outward and top-hung, in a wall. None where that is not known."""
    if pitch_of(opening) < WALL_PITCH:
        return False
    if opening.hinge is not None and opening.hinge != "top-hung":
        return False
    if opening.opens == "inward":
        return False
    return None if opening.hinge is None or opening.opens is None else True


def shut_by(opening: Opening, open_percent: float | None) -> bool | None:
    """Whether a wet action keeps rain out of an opening: closed, or as far open as a sash that covers it may be.

    None where that is not known. What stays fully open is not closed by any reading.
    """
    if open_percent is None:
        return None
    if open_percent == 0 or opening.sheltered:
        return True
    return False if open_percent >= 100 else sheds_rain(opening)


def describe(opening: Opening) -> str:
    """Say in words what kind of sash it is."""
    kind = " ".join(word for word in (opening.opens, opening.hinge) if word and word != "other") or "sash of this kind"
    article = "an" if kind[0] in "aeiou" else "a"
    pitch = "" if pitch_of(opening) >= WALL_PITCH else f" at pitch {pitch_of(opening):g}"
    return f"{article} {kind}{' sash' if 'sash' not in kind else ''}{pitch}"
