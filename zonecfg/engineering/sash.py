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


def hinge_sides(hinge: str, width_mm: float, height_mm: float, axis: str = "horizontal") -> tuple[float, float]:
    """Tell which side of a sash is which.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` [-].
    width_mm : float
        Width of the sash [mm], above 0.
    height_mm : float
        Height of the sash [mm], above 0.
    axis : str
        `horizontal` or `vertical`, of a centre pivot [-].

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

    Examples
    --------
    >>> hinge_sides("side-hung", 900, 1400)
    (900, 1400)
    """
    if width_mm <= 0 or height_mm <= 0:
        raise ValueError(f"a sash needs sides above 0 mm, not {width_mm} by {height_mm}")
    if hinge == "side-hung" or (hinge == "centre-pivot" and axis == "vertical"):
        return width_mm, height_mm
    if hinge in ("top-hung", "bottom-hung", "centre-pivot"):
        return height_mm, width_mm
    raise ValueError(f"no geometry is known for the hinge {hinge!r}")


def levers(
    hinge: str, width_mm: float, height_mm: float, actuator_at_mm: float | None = None, axis: str = "horizontal"
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
    axis : str
        `horizontal` or `vertical`, of a centre pivot [-].

    Returns
    -------
    tuple[float, float, float]
        Hinge axis to moving edge (half the sash of a centre pivot), length along the hinge, hinge axis to
        actuator [mm].

    Raises
    ------
    ValueError
        Unknown hinge, or a length that is not above 0.

    References
    ----------
    Definition.

    Examples
    --------
    >>> levers("centre-pivot", 1200, 800)
    (400.0, 1200, 400.0)
    """
    swing, along = hinge_sides(hinge, width_mm, height_mm, axis)
    if hinge == "centre-pivot":
        swing /= 2
    if actuator_at_mm is None:
        return swing, along, swing
    if actuator_at_mm <= 0:
        raise ValueError(f"the actuator takes hold above 0 mm from the hinge axis, not at {actuator_at_mm}")
    return swing, along, actuator_at_mm


def opening_angle(stroke_mm: float, actuator_at_mm: float) -> float | None:
    """Angle at which a stroke holds a sash: the stroke is the chord of the actuator's circle.

    The point that the chain moves stays on a circle of radius r about the hinge. Closed, it lies on the frame
    at the chain's outlet; at the angle a the chain spans from there to the point: a chord. Half of the chord and
    the radius enclose a right angle with the bisector of a, hence

        w/2 = r·sin(a/2),    a = 2·asin(w / 2r).

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

    Examples
    --------
    A chord of 0.50 m at 1.5 m, a stored result of AixLib:

    >>> round(opening_angle(500, 1500), 3)
    19.188
    """
    if stroke_mm < 0 or actuator_at_mm <= 0:
        raise ValueError(f"no angle: stroke {stroke_mm} mm, actuator {actuator_at_mm} mm from the axis")
    half_sine = stroke_mm / (2 * actuator_at_mm)
    return math.degrees(2 * math.asin(half_sine)) if half_sine <= 1 else None


def edge_gap(stroke_mm: float, swing_mm: float, actuator_at_mm: float) -> float:
    """Gap at the moving edge: its chord, which grows in step with the stroke.

    Both points turn by the same angle a, each on its own circle: the gap is 2·L·sin(a/2), the stroke is
    w = 2·r·sin(a/2). Their quotient is L/r, whatever the angle.

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

    Examples
    --------
    A chain at half the height of the sash:

    >>> edge_gap(50, 1000, 500)
    100.0
    """
    return stroke_mm if swing_mm == actuator_at_mm else stroke_mm * swing_mm / actuator_at_mm


def equivalent_area(first_m2: float, second_m2: float) -> float:
    """Combine two openings that air passes one after the other.

    The same air Q passes both, and each takes its share of the pressure, Δp_i = ρ/2·(Q/C_d·A_i)². One hole that
    takes the sum, (Q/C_d·A)² = (Q/C_d·A₁)² + (Q/C_d·A₂)², has 1/A² = 1/A₁² + 1/A₂².

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

    Examples
    --------
    The clear and the geometric area of a top-hung 1.0 × 1.5 m sash at 0.50 m, a stored result of AixLib:

    >>> round(equivalent_area(1.5, 1.2395099401), 6)
    0.955496
    """
    product = first_m2 * second_m2
    return product / math.hypot(first_m2, second_m2) if product else 0.0


def sash_opening(
    hinge: str,
    width_mm: float,
    height_mm: float,
    stroke_mm: float,
    actuator_at_mm: float | None = None,
    axis: str = "horizontal",
) -> SashOpening | None:
    """Angle, gap and areas of a sash at a stroke.

    The geometric area is that of the rectangle between the closing edge and the frame and of the two
    triangles beside the sash. The projected area is the frame's hole less the sash's shadow on the plane of
    the frame, A_clr·(1 - cos a), and all of the hole from 90° on.

    The rectangle has the length along the hinge, B, and the gap: B·gap. Each triangle has two sides of the
    length L, the sash and the frame, with a between them: L²·sin(a)/2, and there are two of them.

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
    axis : str
        `horizontal` or `vertical`, of a centre pivot [-].

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

    Examples
    --------
    1.0 × 1.5 m, chord 0.50 m, stored results of AixLib for a top-hung and a side-hung window:

    >>> round(sash_opening("top-hung", 1000, 1500, 500).geometric_m2, 6)
    1.23951
    >>> round(sash_opening("side-hung", 1000, 1500, 500).geometric_m2, 6)
    1.234123
    """
    swing, along, radius = levers(hinge, width_mm, height_mm, actuator_at_mm, axis)
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


def sash_mass(width_mm: float, height_mm: float, glass_mm: float) -> float:
    """Estimate the mass of a sash from its glass.

    Density × volume: 2500 kg/m³ × 0.001 m = 2.5 kg for a square metre of glass one millimetre thick.

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

    Examples
    --------
    >>> sash_mass(1000, 1000, 4)
    10.0
    """
    return GLASS_KG_PER_M2_MM * glass_mm * width_mm * height_mm / 1e6
