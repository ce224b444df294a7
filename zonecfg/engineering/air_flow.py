"""Air through openings: one side of a room, and an orifice."""

import math

G_M_S2 = 9.80665
DISCHARGE = 0.61
KELVIN = 273.15


def single_sided_flow(area_m2: float, height_m: float, wind_m_s: float, inside_c: float, outside_c: float) -> float:
    """Flow through the only opening of a room, by Warren and Parkins: the larger of wind's and buoyancy's.

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
    """
    _refuse(area_m2, height_m, wind_m_s, inside_c, outside_c)
    mean_k = (inside_c + outside_c) / 2 + KELVIN
    buoyancy = math.sqrt(G_M_S2 * height_m * abs(inside_c - outside_c) / mean_k)
    return area_m2 * max(0.025 * wind_m_s, DISCHARGE / 3 * buoyancy)


def single_sided_flow_de_gids_phaff(
    area_m2: float, height_m: float, wind_m_s: float, inside_c: float, outside_c: float
) -> float:
    """Flow through the only opening of a room, by de Gids and Phaff: wind, buoyancy and turbulence together.

    Parameters
    ----------
    area_m2 : float
        Area of the opening [m²], 0 and more.
    height_m : float
        Height of the opening [m], 0 and more.
    wind_m_s : float
        Wind speed at 10 m [m/s], 0 and more.
    inside_c : float
        Air temperature inside [°C], above -273.15.
    outside_c : float
        Air temperature outside [°C], above -273.15.

    Returns
    -------
    float
        (A/2)·√(0.001·U² + 0.0035·H·ΔT + 0.01) [m³/s].

    Raises
    ------
    ValueError
        A negative area, height or speed, or no such temperature.

    References
    ----------
    de Gids and Phaff (1982), Air Infiltration Review 4(1).
    """
    _refuse(area_m2, height_m, wind_m_s, inside_c, outside_c)
    squared = 0.001 * wind_m_s * wind_m_s + 0.0035 * height_m * abs(inside_c - outside_c) + 0.01
    return area_m2 / 2 * math.sqrt(squared)


def orifice_flow(area_m2: float, pressure_pa: float) -> float:
    """Flow through an opening under a pressure difference.

    Parameters
    ----------
    area_m2 : float
        Effective area, the discharge coefficient within it [m²], 0 and more.
    pressure_pa : float
        Pressure difference [Pa], 0 and more.

    Returns
    -------
    float
        0.83·A·√Δp [m³/s].

    Raises
    ------
    ValueError
        A negative area or pressure.

    References
    ----------
    The form of EN 12101-6 annex A.
    """
    if area_m2 < 0 or pressure_pa < 0:
        raise ValueError(f"needs 0 and more, not {area_m2} m² and {pressure_pa} Pa")
    return 0.83 * area_m2 * math.sqrt(pressure_pa)


def _refuse(area_m2: float, height_m: float, wind_m_s: float, inside_c: float, outside_c: float) -> None:
    if min(area_m2, height_m, wind_m_s) < 0 or min(inside_c, outside_c) <= -KELVIN:
        raise ValueError("needs an area, height and wind of 0 and more, and temperatures above absolute zero")
