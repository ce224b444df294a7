"""The stroke that keeps a gap: geometry of the sash, turned round."""

import math

from zonecfg.engineering.sash import edge_gap, levers


def largest_stroke_below_gap(
    hinge: str,
    width_mm: float,
    height_mm: float,
    sphere_mm: float,
    actuator_at_mm: float | None = None,
    axis: str = "horizontal",
) -> int:
    """Largest stroke whose gap a sphere cannot pass.

    The gap is w·L/r (`edge_gap`). It has to stay below the sphere s, so w < s·r/L: the largest whole number below
    that.

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
    axis : str
        `horizontal` or `vertical`, of a centre pivot [-].

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

    Examples
    --------
    A sphere of 125 mm (NCC D3D29) before a sash held at its edge, and one held at half its height:

    >>> largest_stroke_below_gap("top-hung", 1200, 1000, 125)
    124
    >>> largest_stroke_below_gap("top-hung", 1200, 1000, 125, 500)
    62
    """
    swing, _, radius = levers(hinge, width_mm, height_mm, actuator_at_mm, axis)
    if sphere_mm <= 0:
        raise ValueError(f"a sphere has a diameter above 0 mm, not {sphere_mm}")
    stroke = min(math.ceil(sphere_mm * radius / swing), math.floor(2 * radius))
    while stroke > 0 and edge_gap(stroke, swing, radius) >= sphere_mm:
        stroke -= 1
    return stroke
