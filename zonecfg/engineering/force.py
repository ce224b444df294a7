"""The hardest place on a sash's travel: the largest force along the chain of its actuator, by what `moments` says."""

import math
from typing import NamedTuple

from zonecfg.engineering.moments import G_M_S2, pivot_wind_moment, seal_moment, signs_of, weight_force, wind_force

SEAL_MM = 5.0
"""Gap at the closing edge within which the seal is still pressed [mm]."""


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


class _Pull(NamedTuple):
    """What turns a sash: f = a·(2c - 1/c) + b·s + p/c + friction, and q/c more within the seal [N], over 2r [mm]."""

    a: float
    b: float
    p: float
    q: float
    friction: float
    diameter_mm: float
    seal_to_mm: float

    def at(self, place: float) -> ChainForce:
        sine = place / self.diameter_mm
        cosine = math.sqrt(1 - sine * sine)
        weight = self.a * (2 * cosine - 1 / cosine) + self.b * sine
        wind = self.p / cosine
        seal = self.q / cosine if place <= self.seal_to_mm else 0.0
        return ChainForce(place, weight + wind + seal + self.friction, weight, wind, seal, self.friction)

    def hardest(self, stroke_mm: float) -> ChainForce:
        """Largest over the travel; of equal ones the nearest to closed."""
        places = [0.0, stroke_mm]
        stretches = [(self.p, stroke_mm)]
        if self.q:
            sealed = min(stroke_mm, self.seal_to_mm)
            places.append(sealed)
            stretches.append((self.p + self.q, sealed))
        for p, end in stretches:
            sine = end / self.diameter_mm
            inner = _inner_maximum(self.a, self.b, p, sine / math.sqrt(1 - sine * sine))
            if inner is not None:
                places.append(self.diameter_mm * inner / math.sqrt(1 + inner * inner))
        return max(map(self.at, sorted(places)), key=lambda there: there.total_n)


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
    axis: str = "horizontal",
    pivot_coefficient: float = 0.0,
) -> WorstForces | None:
    """Largest opening push and closing pull over the travel from closed to a stroke.

    Exact to rounding: with s = sin(a/2), c = cos(a/2), cos(a) = 2c² - 1 and sin(a) = 2sc, weight, wind and seal over
    r·c are a·(2c - 1/c) + b·s + p/c, whose slope is a cubic in tan(a/2). Its root on either side of where the seal
    lets go, both ends and that place are the only ones where a largest force can be.

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
        Force of the seal on each metre [N/m]; it resists both movements while the gap is 5 mm or less.
    friction_n : float
        Friction along the chain [N]; it resists both movements throughout.
    axis : str
        `horizontal` or `vertical`, of a centre pivot [-].
    pivot_coefficient : float
        Difference of wind pressure between the halves of a centre pivot over the pressure [-], 0 and more.

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
    Moments about the hinge, as `weight_force`, `wind_force`, `pivot_wind_moment` and `seal_moment`.

    Examples
    --------
    1200 × 700 mm, 24 kg, 300 mm, 88.2 Pa: weight 24·g·(3/14), wind 88.2·0.84/2 over cos(a/2).

    >>> worst = worst_forces("top-hung", "outward", 1200, 700, 300, mass_kg=24, pressure_pa=88.2)
    >>> round(worst.opening.weight_n, 2), round(worst.opening.wind_n, 2)
    (50.45, 37.92)
    """
    _, v = signs_of(hinge, opens)
    upright = hinge == "side-hung" or (hinge == "centre-pivot" and axis == "vertical")
    reach, along = (width_mm, height_mm) if upright else (height_mm, width_mm)
    pivot = hinge == "centre-pivot"
    swing = reach / 2 if pivot else reach
    radius = swing if actuator_at_mm is None else actuator_at_mm
    if reach <= 0 or along <= 0 or radius <= 0 or stroke_mm < 0:
        raise ValueError("needs lengths above 0 mm and a stroke of 0 mm or more")
    diameter = 2 * radius
    if stroke_mm >= diameter:
        return None
    slope = math.radians(90 - pitch_deg)
    a = weight_force(hinge, opens, mass_kg, reach, 0.0, pitch_deg=pitch_deg, actuator_at_mm=radius)
    b = mass_kg * G_M_S2 * reach / radius * v * math.cos(slope)
    if pivot:
        p = pivot_wind_moment(pressure_pa, reach, along, pivot_coefficient) / radius * 1e3
    else:
        p = wind_force(pressure_pa, reach, along, 0.0, actuator_at_mm=radius)
    q = seal_moment(hinge, swing, along, seal_n_per_m) / radius * 1e3
    seal_to = SEAL_MM * radius / swing
    return WorstForces(
        _Pull(a, b, p, q, friction_n, diameter, seal_to).hardest(stroke_mm),
        _Pull(-a, -b, p, q, friction_n, diameter, seal_to).hardest(stroke_mm),
    )
