"""Geometry of a hinged sash moved by an actuator.

Three lengths describe a sash. *Hinge to edge* runs from the hinge side to the closing side, *along the
hinge* is the other side, and the actuator takes hold at a distance from the hinge axis, at the closing edge
unless said otherwise. A centre pivot turns about its middle: half of the sash swings out, half swings in.
"""

import math
from typing import NamedTuple

GLASS_KG_PER_M2_MM = 2.5


class SashOpening(NamedTuple):
    """What an opened sash gives: angle [deg], gap [mm] and areas [m²]."""

    angle_deg: float  # between sash and frame
    gap_mm: float  # widest distance between a moving edge and its frame
    geometric_m2: float  # the surfaces air passes between sash and frame
    clear_m2: float  # the hole in the frame
    free_m2: float  # the smaller of the two before
    equivalent_m2: float  # the two in series, as one hole
    projected_m2: float  # what the sash no longer hides, seen square to the frame


def hinge_sides(hinge: str, width_mm: float, height_mm: float) -> tuple[float, float]:
    """Tell which side of a sash is which.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` (about a horizontal axis) [-].
    width_mm : float
        Width of the sash [mm], above 0.
    height_mm : float
        Height of the sash [mm], above 0.

    Returns
    -------
    tuple[float, float]
        Hinge to closing edge (of a centre pivot: edge to edge), and the length along the hinge [mm].

    Raises
    ------
    ValueError
        Unknown hinge, or a side that is not above 0.

    References
    ----------
    Definition.
    """
    if width_mm <= 0 or height_mm <= 0:
        raise ValueError(f"a sash needs sides above 0 mm, not {width_mm} by {height_mm}")
    if hinge in ("top-hung", "bottom-hung", "centre-pivot"):
        return height_mm, width_mm
    if hinge == "side-hung":
        return width_mm, height_mm
    raise ValueError(f"no geometry is known for the hinge {hinge!r}")


def levers(
    hinge: str, width_mm: float, height_mm: float, actuator_at_mm: float | None = None
) -> tuple[float, float, float]:
    """Give the lengths that decide how a sash turns.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` [-].
    width_mm : float
        Width of the sash [mm], above 0.
    height_mm : float
        Height of the sash [mm], above 0.
    actuator_at_mm : float | None
        Hinge axis to the point where the actuator takes hold [mm], above 0; None for the closing edge.

    Returns
    -------
    tuple[float, float, float]
        Hinge axis to moving edge (half the height of a centre pivot), length along the hinge, hinge axis to
        actuator [mm].

    Raises
    ------
    ValueError
        Unknown hinge, or a length that is not above 0.

    References
    ----------
    Definition.
    """
    swing, along = hinge_sides(hinge, width_mm, height_mm)
    if hinge == "centre-pivot":
        swing /= 2
    if actuator_at_mm is None:
        return swing, along, swing
    if actuator_at_mm <= 0:
        raise ValueError(f"the actuator takes hold above 0 mm from the hinge axis, not at {actuator_at_mm}")
    return swing, along, actuator_at_mm


def opening_angle(stroke_mm: float, actuator_at_mm: float) -> float | None:
    """Angle at which a stroke holds a sash: the stroke is the chord of the actuator's circle.

    Parameters
    ----------
    stroke_mm : float
        Stroke [mm], 0 and more.
    actuator_at_mm : float
        Hinge axis to the point where the actuator takes hold [mm], above 0.

    Returns
    -------
    float | None
        a = 2·asin(w / 2r) [deg], 0 to 180; None where the stroke is longer than 2r and no angle exists.

    Raises
    ------
    ValueError
        Stroke below 0, or actuator on the hinge axis.

    References
    ----------
    Geometry; RWTH-EBC AixLib, Airflow.WindowVentilation, WidthToAngle.
    """
    if stroke_mm < 0 or actuator_at_mm <= 0:
        raise ValueError(f"no angle: stroke {stroke_mm} mm, actuator {actuator_at_mm} mm from the axis")
    half_sine = stroke_mm / (2 * actuator_at_mm)
    return math.degrees(2 * math.asin(half_sine)) if half_sine <= 1 else None


def edge_gap(stroke_mm: float, swing_mm: float, actuator_at_mm: float) -> float:
    """Gap at the moving edge: its chord, which grows in step with the stroke.

    Parameters
    ----------
    stroke_mm : float
        Stroke [mm], 0 and more.
    swing_mm : float
        Hinge axis to the moving edge [mm], above 0.
    actuator_at_mm : float
        Hinge axis to the point where the actuator takes hold [mm], above 0.

    Returns
    -------
    float
        2·L·sin(a/2) = w·L/r [mm]; the stroke itself where the actuator holds the edge.

    References
    ----------
    Geometry, similar triangles.
    """
    return stroke_mm if swing_mm == actuator_at_mm else stroke_mm * swing_mm / actuator_at_mm


def equivalent_area(first_m2: float, second_m2: float) -> float:
    """Combine two openings that air passes one after the other.

    Parameters
    ----------
    first_m2 : float
        One area [m²], 0 and more.
    second_m2 : float
        The other area [m²], 0 and more.

    Returns
    -------
    float
        (A₁⁻² + A₂⁻²)^-½ [m²]; 0 where either is 0.

    References
    ----------
    Orifices in series; RWTH-EBC AixLib, Airflow.WindowVentilation, EquivalentOpeningArea.
    """
    product = first_m2 * second_m2
    return product / math.hypot(first_m2, second_m2) if product else 0.0


def sash_opening(
    hinge: str, width_mm: float, height_mm: float, stroke_mm: float, actuator_at_mm: float | None = None
) -> SashOpening | None:
    """Angle, gap and areas of a sash at a stroke.

    The geometric area is that of the rectangle between the closing edge and the frame and of the two
    triangles beside the sash. The projected area is the frame's hole less the sash's shadow on the plane of
    the frame, A_clr·(1 - cos a), and all of the hole from 90° on.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` [-].
    width_mm : float
        Width of the sash [mm], above 0.
    height_mm : float
        Height of the sash [mm], above 0.
    stroke_mm : float
        Stroke of the actuator [mm], 0 and more.
    actuator_at_mm : float | None
        Hinge axis to the point where the actuator takes hold [mm], above 0; None for the closing edge.

    Returns
    -------
    SashOpening | None
        Angle [deg], gap [mm] and areas [m²]; None where the stroke is over twice the actuator's distance.

    Raises
    ------
    ValueError
        Unknown hinge, sides or actuator's distance not above 0, stroke below 0.

    References
    ----------
    RWTH-EBC AixLib, Airflow.WindowVentilation, GeometricOpeningArea and EquivalentOpeningArea; a centre
    pivot has half the swing and twice the geometric area.
    """
    swing, along, radius = levers(hinge, width_mm, height_mm, actuator_at_mm)
    angle_deg = opening_angle(stroke_mm, radius)
    if angle_deg is None:
        return None
    angle = math.radians(angle_deg)
    gap = edge_gap(stroke_mm, swing, radius)
    geometric = (along * gap + swing * swing * math.sin(angle)) / 1e6
    if hinge == "centre-pivot":
        geometric *= 2
    clear = width_mm * height_mm / 1e6
    return SashOpening(
        angle_deg,
        gap,
        geometric,
        clear,
        min(geometric, clear),
        equivalent_area(clear, geometric),
        clear * (1 - max(math.cos(angle), 0.0)),
    )


def tilted_area(clear_m2: float, angle_deg: float) -> float:
    """Area of a tilted window by the polynomial of CEN/TR 16798-8.

    Parameters
    ----------
    clear_m2 : float
        Area of the hole in the frame [m²], 0 and more.
    angle_deg : float
        Opening angle [deg], 0 to 90.

    Returns
    -------
    float
        A_clr·(2.6e-7·a³ - 1.19e-4·a² + 1.86e-2·a) [m²].

    Raises
    ------
    ValueError
        Angle outside 0 to 90.

    References
    ----------
    CEN/TR 16798-8; RWTH-EBC AixLib, Airflow.WindowVentilation, OpeningAreaSashDIN16798.
    """
    if not 0 <= angle_deg <= 90:
        raise ValueError(f"the polynomial holds from 0 to 90 deg, not at {angle_deg}")
    return clear_m2 * ((2.6e-7 * angle_deg - 1.19e-4) * angle_deg + 1.86e-2) * angle_deg


def sash_mass(width_mm: float, height_mm: float, glass_mm: float) -> float:
    """Estimate the mass of a sash from its glass.

    Parameters
    ----------
    width_mm : float
        Width of the sash [mm], 0 and more.
    height_mm : float
        Height of the sash [mm], 0 and more.
    glass_mm : float
        Thickness of all its panes together [mm], 0 and more.

    Returns
    -------
    float
        2.5 kg for each square metre and millimetre [kg]; the frame's profiles are not weighed apart.

    References
    ----------
    Common practice: soda lime glass weighs 2500 kg/m³.
    """
    return GLASS_KG_PER_M2_MM * glass_mm * width_mm * height_mm / 1e6
