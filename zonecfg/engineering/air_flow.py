"""Air through openings: one side of a room, and an orifice."""

import math

G_M_S2 = 9.80665
DISCHARGE = 0.61
KELVIN = 273.15


def single_sided_flow(area_m2: float, height_m: float, wind_m_s: float, inside_c: float, outside_c: float) -> float:
    """Flow through the only opening of a room, by Warren and Parkins: the larger of wind's and buoyancy's.

    Buoyancy: over a hole of the height H the pressure of two columns of air differs by ρ·g·H·ΔT/T. Half of the
    hole lets air in, half out, about a neutral plane in the middle; the velocity √(2·Δp(z)/ρ) grows with √z, and
    its integral over half the height is (A/3)·√(g·H·ΔT/T), to be multiplied by C_d. Wind: 0.025·A·U, measured.
    The two do not add up: the stronger one drives.

    Parameters
    ----------
    area_m2 : float
        Area of the opening [m²], 0 and more.
    height_m : float
        Height of the opening [m], 0 and more.
    wind_m_s : float
        Reference wind speed at 10 m [m/s], 0 and more.
    inside_c : float
        Air temperature inside [°C], above -273.15.
    outside_c : float
        Air temperature outside [°C], above -273.15.

    Returns
    -------
    float
        max(0.025·A·U, (C_d·A/3)·√(g·H·ΔT/T)) [m³/s], T the mean of both, C_d 0.61.

    Raises
    ------
    ValueError
        A negative area, height or speed, or no such temperature.

    References
    ----------
    Warren and Parkins (1984), Single-sided ventilation through open windows; the pair of BS 5925 and CIBSE.

    Examples
    --------
    A hole of 1.0 × 1.8 m, 30 °C in, 0 °C out, no wind, and in wind of 9.6 m/s (stored results of AixLib):

    >>> round(single_sided_flow(1.8, 1.8, 0, 30, 0), 4)
    0.4962
    >>> round(single_sided_flow(1.8, 1.8, 9.6, 30, 30), 4)
    0.432
    """
    _refuse(area_m2, height_m, wind_m_s, inside_c, outside_c)
    mean_k = (inside_c + outside_c) / 2 + KELVIN
    buoyancy = math.sqrt(G_M_S2 * height_m * abs(inside_c - outside_c) / mean_k)
    return area_m2 * max(0.025 * wind_m_s, DISCHARGE / 3 * buoyancy)


def _refuse(area_m2: float, height_m: float, wind_m_s: float, inside_c: float, outside_c: float) -> None:
    if min(area_m2, height_m, wind_m_s) < 0 or min(inside_c, outside_c) <= -KELVIN:
        raise ValueError("needs an area, height and wind of 0 and more, and temperatures above absolute zero")
