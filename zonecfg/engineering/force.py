"""Forces along the chain of an actuator that moves a hinged sash.

The chain lies along the chord from the frame to the point it moves, so at the angle a its lever is
r·cos(a/2). Weight turns the sash by m·g·(L/2)·k(a). For every hinge and direction k has one form,

    k(a) = u·sin(β)·cos(a) + v·cos(β)·sin(a),    β = 90° - pitch

with u and v each -1, 0 or 1: `SIGNS`. Positive resists opening. A centre pivot is balanced: no weight,
no wind.
"""

import math
from typing import NamedTuple

G_M_S2 = 9.81
SEAL_MM = 5.0

SIGNS: dict[tuple[str, str], tuple[int, int]] = {
    ("top-hung", "outward"): (1, 1),
    ("top-hung", "inward"): (-1, 1),
    ("bottom-hung", "outward"): (1, -1),
    ("bottom-hung", "inward"): (-1, -1),
    ("side-hung", "outward"): (1, 0),
    ("side-hung", "inward"): (-1, 0),
    ("centre-pivot", "outward"): (0, 0),
    ("centre-pivot", "inward"): (0, 0),
}


class ChainForce(NamedTuple):
    """Force against one movement [N] at one place on the travel [mm]: positive resists it."""

    stroke_mm: float  # from closed
    total_n: float  # the sum of its parts, before actuators share it
    weight_n: float
    wind_n: float
    seal_n: float
    friction_n: float


class WorstForces(NamedTuple):
    """The hardest place of each movement [N]."""

    opening: ChainForce  # push
    closing: ChainForce  # pull


def _signs(hinge: str, opens: str) -> tuple[int, int]:
    try:
        return SIGNS[hinge, opens]
    except KeyError:
        raise ValueError(f"no forces are known for a sash {hinge!r} that opens {opens!r}") from None


def weight_force(
    hinge: str,
    opens: str,
    mass_kg: float,
    hinge_to_edge_mm: float,
    angle_deg: float,
    *,
    pitch_deg: float = 90.0,
    actuator_at_mm: float | None = None,
) -> float:
    """Force that the weight of a uniform sash puts on the chain.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` [-].
    opens : str
        `outward` or `inward` [-].
    mass_kg : float
        Mass of the sash [kg], 0 and more.
    hinge_to_edge_mm : float
        Hinge to closing edge [mm], above 0; the centre of gravity is halfway.
    angle_deg : float
        Opening angle [deg], 0 to under 180.
    pitch_deg : float
        The frame's plane from horizontal [deg], 90 for a wall.
    actuator_at_mm : float | None
        Hinge axis to the point where the actuator takes hold [mm], above 0; None for the closing edge.

    Returns
    -------
    float
        m·g·(L/2)·k(a) / (r·cos(a/2)) [N]; positive resists opening, negative resists closing.

    Raises
    ------
    ValueError
        Unknown hinge or direction.

    References
    ----------
    Moments about the hinge; g = 9.81 m/s², the value of the published lever example it is tested against.
    """
    u, v = _signs(hinge, opens)
    angle, slope = math.radians(angle_deg), math.radians(90 - pitch_deg)
    k = u * math.sin(slope) * math.cos(angle) + v * math.cos(slope) * math.sin(angle)
    radius_mm = hinge_to_edge_mm if actuator_at_mm is None else actuator_at_mm
    lever_mm = radius_mm * math.cos(angle / 2)
    return mass_kg * G_M_S2 * hinge_to_edge_mm / 2 * k / lever_mm


def wind_force(
    pressure_pa: float,
    hinge_to_edge_mm: float,
    along_hinge_mm: float,
    angle_deg: float,
    *,
    actuator_at_mm: float | None = None,
) -> float:
    """Force that wind, square to the sash, puts on the chain.

    Pressure resists opening an outward sash, suction resists closing it; inward the reverse. A centre pivot
    is balanced and has none.

    Parameters
    ----------
    pressure_pa : float
        Pressure difference across the sash [Pa], 0 and more.
    hinge_to_edge_mm : float
        Hinge to closing edge [mm], above 0.
    along_hinge_mm : float
        Length along the hinge [mm], above 0.
    angle_deg : float
        Opening angle [deg], 0 to under 180.
    actuator_at_mm : float | None
        Hinge axis to the point where the actuator takes hold [mm], above 0; None for the closing edge.

    Returns
    -------
    float
        p·B·L·(L/2) / (r·cos(a/2)) [N], a size without a sign.

    References
    ----------
    Moments about the hinge.
    """
    radius_mm = hinge_to_edge_mm if actuator_at_mm is None else actuator_at_mm
    lever_mm = radius_mm * math.cos(math.radians(angle_deg) / 2)
    return pressure_pa * along_hinge_mm * hinge_to_edge_mm * 1e-6 * hinge_to_edge_mm / 2 / lever_mm


def _inner_maximum(a: float, b: float, p: float, end: float) -> float | None:
    """Place in (0, end) where f = a·(2c - 1/c) + b·s + p/c is largest, as t = tan(a/2); None where an end is.

    Here s = sin(a/2) is the stroke over 2r and c = cos(a/2). df/ds = (p-a)·t³ + (p-3a)·t + b, a cubic that
    falls through 0 at most once for t > 0, and never beyond its turn, from which it rises as p is not negative.
    """
    cube, line = p - a, p - 3 * a
    low, high = 0.0, min(end, math.sqrt(-line / (3 * cube))) if cube * line < 0 else end
    if not b > 0 > (cube * high * high + line) * high + b:
        return None
    for _ in range(60):
        middle = (low + high) / 2
        if (cube * middle * middle + line) * middle + b > 0:
            low = middle
        else:
            high = middle
    return low


def _worst(
    curve: tuple[float, float, float], stroke_mm: float, diameter_mm: float, seal_n: float, friction_n: float
) -> ChainForce:
    """Largest of f + seal + friction over the travel; of equal ones the nearest to closed."""
    a, b, p = curve
    places = [0.0, stroke_mm]
    if seal_n and stroke_mm > SEAL_MM:
        places.append(SEAL_MM)
    sine = stroke_mm / diameter_mm
    inner = _inner_maximum(a, b, p, sine / math.sqrt(1 - sine * sine))
    if inner is not None:
        places.append(diameter_mm * inner / math.sqrt(1 + inner * inner))
    forces = []
    for place in sorted(places):
        sine = place / diameter_mm
        cosine = math.sqrt(1 - sine * sine)
        weight = a * (2 * cosine - 1 / cosine) + b * sine
        wind = p / cosine
        seal = seal_n if place <= SEAL_MM else 0.0
        forces.append(ChainForce(place, weight + wind + seal + friction_n, weight, wind, seal, friction_n))
    return max(forces, key=lambda there: there.total_n)


def worst_forces(
    hinge: str,
    opens: str,
    width_mm: float,
    height_mm: float,
    stroke_mm: float,
    *,
    mass_kg: float,
    pitch_deg: float = 90.0,
    actuator_at_mm: float | None = None,
    pressure_pa: float = 0.0,
    seal_n_per_m: float = 0.0,
    friction_n: float = 0.0,
) -> WorstForces | None:
    """Largest opening push and closing pull over the travel from closed to a stroke.

    Exact to rounding: with s = sin(a/2), c = cos(a/2) weight and wind are a·(2c - 1/c) + b·s + p/c, whose
    slope is a cubic in tan(a/2). Its root, both ends and the edge of the seal are the only places where a
    largest force can be.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` [-].
    opens : str
        `outward` or `inward` [-].
    width_mm : float
        Width of the sash [mm], above 0.
    height_mm : float
        Height of the sash [mm], above 0.
    stroke_mm : float
        Stroke of the actuator [mm], 0 and more.
    mass_kg : float
        Mass of the sash [kg], 0 and more.
    pitch_deg : float
        The frame's plane from horizontal [deg], 90 for a wall.
    actuator_at_mm : float | None
        Hinge axis to the point where the actuator takes hold [mm], above 0; None for the closing edge.
    pressure_pa : float
        Wind pressure or suction [Pa], 0 and more; each movement meets the one that resists it.
    seal_n_per_m : float
        Force of the seal on each metre of perimeter [N/m]; it resists both movements within 5 mm of closed.
    friction_n : float
        Friction along the chain [N]; it resists both movements throughout.

    Returns
    -------
    WorstForces | None
        Push and pull with their parts [N] and places [mm]; None where the stroke reaches twice the actuator's
        distance and the chain has no lever left.

    Raises
    ------
    ValueError
        Unknown hinge or direction, a length not above 0, stroke below 0.

    References
    ----------
    Moments about the hinge, as `weight_force` and `wind_force`.
    """
    u, v = _signs(hinge, opens)
    reach, along = (width_mm, height_mm) if hinge == "side-hung" else (height_mm, width_mm)
    pivot = hinge == "centre-pivot"
    radius = (reach / 2 if pivot else reach) if actuator_at_mm is None else actuator_at_mm
    if reach <= 0 or along <= 0 or radius <= 0 or stroke_mm < 0:
        raise ValueError("needs lengths above 0 mm and a stroke of 0 mm or more")
    diameter = 2 * radius
    if stroke_mm >= diameter:
        return None
    slope = math.radians(90 - pitch_deg)
    scale = mass_kg * G_M_S2 * reach / diameter
    a = scale * u * math.sin(slope)
    b = scale * v * 2 * math.cos(slope)
    p = 0.0 if pivot else pressure_pa * along * reach * 1e-6 * reach / diameter
    seal = seal_n_per_m * 2 * (reach + along) * 1e-3
    return WorstForces(
        _worst((a, b, p), stroke_mm, diameter, seal, friction_n),
        _worst((-a, -b, p), stroke_mm, diameter, seal, friction_n),
    )
