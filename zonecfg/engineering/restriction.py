"""The stroke that keeps a gap: geometry of the sash, turned round."""

import math

from zonecfg.engineering.sash import edge_gap, levers


def stroke_for_gap(
    hinge: str, width_mm: float, height_mm: float, gap_mm: float, actuator_at_mm: float | None = None
) -> float | None:
    """Stroke that opens a sash to a gap.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` [-].
    width_mm : float
        Width of the sash [mm], above 0.
    height_mm : float
        Height of the sash [mm], above 0.
    gap_mm : float
        Gap wanted at the moving edge [mm], 0 and more.
    actuator_at_mm : float | None
        Hinge axis to the point where the actuator takes hold [mm], above 0; None for the closing edge.

    Returns
    -------
    float | None
        Stroke [mm]; None where no position of the sash gives such a gap.

    Raises
    ------
    ValueError
        Unknown hinge, sides or actuator's distance not above 0, gap below 0.

    References
    ----------
    The inverse of `edge_gap`.
    """
    swing, _, radius = levers(hinge, width_mm, height_mm, actuator_at_mm)
    if gap_mm < 0:
        raise ValueError(f"a gap is 0 mm or more, not {gap_mm}")
    return edge_gap(gap_mm, radius, swing) if gap_mm <= 2 * swing else None


def largest_stroke_below_gap(
    hinge: str, width_mm: float, height_mm: float, sphere_mm: float, actuator_at_mm: float | None = None
) -> int:
    """Largest stroke whose gap a sphere cannot pass.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` [-].
    width_mm : float
        Width of the sash [mm], above 0.
    height_mm : float
        Height of the sash [mm], above 0.
    sphere_mm : float
        Diameter of the sphere [mm], above 0. A gap smaller than the sphere stops it, an equal one does not.
    actuator_at_mm : float | None
        Hinge axis to the point where the actuator takes hold [mm], above 0; None for the closing edge.

    Returns
    -------
    int
        Stroke in whole millimetres [mm]; 0 where even 1 mm is too much, at most twice the actuator's
        distance.

    Raises
    ------
    ValueError
        Unknown hinge, or a length not above 0.

    References
    ----------
    Sphere tests of the fall rules (ABCB guide to NCC D3D29, IRC R312.2): no passage for the sphere.
    """
    swing, _, radius = levers(hinge, width_mm, height_mm, actuator_at_mm)
    if sphere_mm <= 0:
        raise ValueError(f"a sphere has a diameter above 0 mm, not {sphere_mm}")
    stroke = min(math.ceil(sphere_mm * radius / swing), math.floor(2 * radius))
    while stroke > 0 and edge_gap(stroke, swing, radius) >= sphere_mm:
        stroke -= 1
    return stroke
