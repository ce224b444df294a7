"""Resistance of copper conductors: metric sizes, American gauges, temperature, cables of two conductors."""

import math
from typing import Final

STANDARD_SIZES_MM2: Final = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0)
_SOLID_OR_STRANDED = (36.0, 24.5, 18.1, 12.1, 7.41, 4.61, 3.08, 1.83)
_FLEXIBLE = (39.0, 26.0, 19.5, 13.3, 7.98, 4.95, 3.30, 1.91)
_OHM_PER_KM: Final[dict[tuple[int, float], float]] = {
    (conductor_class, size): ohm
    for conductor_class, column in ((1, _SOLID_OR_STRANDED), (2, _SOLID_OR_STRANDED), (5, _FLEXIBLE))
    for size, ohm in zip(STANDARD_SIZES_MM2, column, strict=True)
}
COPPER_PER_K = 0.00393
COPPER_OHM_MM2_PER_M = 1 / 58


def ohm_per_km(size_mm2: float, conductor_class: int) -> float:
    """Largest direct-current resistance of one plain copper conductor at 20 °C.

    Parameters
    ----------
    size_mm2 : float
        Nominal size [mm²], one of `STANDARD_SIZES_MM2`.
    conductor_class : int
        1 solid, 2 stranded or 5 flexible [-].

    Returns
    -------
    float
        Resistance [ohm/km].

    Raises
    ------
    ValueError
        A size or class the table does not have.

    References
    ----------
    IEC 60228, maximum resistance at 20 °C, plain copper, 0.5 to 10 mm².

    Examples
    --------
    >>> ohm_per_km(4.0, 1), ohm_per_km(4.0, 5)
    (4.61, 4.95)
    """
    try:
        return _OHM_PER_KM[conductor_class, size_mm2]
    except KeyError:
        raise ValueError(f"IEC 60228 gives no {size_mm2} mm² conductor of class {conductor_class}") from None


def next_larger_size(size_mm2: float) -> float | None:
    """Give the next standard size up.

    Parameters
    ----------
    size_mm2 : float
        Size [mm²], any.

    Returns
    -------
    float | None
        The smallest standard size above it [mm²]; None above the table.

    References
    ----------
    IEC 60228, nominal sizes from 0.5 to 10 mm².

    Examples
    --------
    >>> next_larger_size(1.5)
    2.5
    """
    return next((size for size in STANDARD_SIZES_MM2 if size > size_mm2), None)


def temperature_factor(conductor_c: float, per_k: float = COPPER_PER_K) -> float:
    """Resistance at a temperature over the resistance at 20 °C.

    Resistance grows in a straight line, R(T) = R₂₀·(1 + α·(T - 20)); both sides over R₂₀.

    Parameters
    ----------
    conductor_c : float
        Temperature of the conductor [°C]; linear, so for the temperatures of buildings.
    per_k : float
        Temperature coefficient at 20 °C [1/K], 0.00393 for annealed copper.

    Returns
    -------
    float
        1 + coefficient·(T - 20) [-].

    References
    ----------
    IEC 60028, annealed copper, constant-mass coefficient at 20 °C.

    Examples
    --------
    >>> round(temperature_factor(70), 4)
    1.1965
    """
    return 1 + per_k * (conductor_c - 20)


def loop_resistance(length_m: float, conductor_ohm_per_km: float, conductor_c: float = 20.0) -> float:
    """Resistance there and back through a cable of two equal conductors.

    The current goes out through one conductor and comes back through the other: 2 × length × resistance a metre.

    Parameters
    ----------
    length_m : float
        Length of the cable [m], 0 and more.
    conductor_ohm_per_km : float
        Resistance of one conductor at 20 °C [ohm/km], 0 and more.
    conductor_c : float
        Temperature of the conductors [°C].

    Returns
    -------
    float
        Resistance of both conductors [ohm].

    Raises
    ------
    ValueError
        Length or resistance below 0.

    References
    ----------
    Series resistances.

    Examples
    --------
    100 m of 4 mm², class 1, at 20 °C:

    >>> round(loop_resistance(100, 4.61), 3)
    0.922
    """
    if length_m < 0 or conductor_ohm_per_km < 0:
        raise ValueError(f"needs 0 and more, not {length_m} m and {conductor_ohm_per_km} ohm/km")
    return 2e-3 * length_m * conductor_ohm_per_km * temperature_factor(conductor_c)


def awg_diameter(gauge: float) -> float:
    """Diameter of a solid wire of an American gauge.

    Gauges are a geometric series: 36 is 0.005 in, 4/0 (-3) is 0.46 in, 92 times as much, in 39 equal steps.

    Parameters
    ----------
    gauge : float
        Gauge number [-]; 0, -1, -2, -3 for 1/0 to 4/0.

    Returns
    -------
    float
        0.127·92^((36 - n)/39) [mm].

    References
    ----------
    ASTM B258.

    Examples
    --------
    Gauge 36 by definition, 0.005 in:

    >>> awg_diameter(36)
    0.127
    """
    return float(0.127 * 92 ** ((36 - gauge) / 39))


def awg_area(gauge: float) -> float:
    """Area of a solid wire of an American gauge.

    The circle's area, π·d²/4.

    Parameters
    ----------
    gauge : float
        Gauge number [-]; 0, -1, -2, -3 for 1/0 to 4/0.

    Returns
    -------
    float
        Area of the circle [mm²].

    References
    ----------
    ASTM B258.

    Examples
    --------
    >>> round(awg_area(12), 2)
    3.31
    """
    return math.pi / 4 * awg_diameter(gauge) ** 2


def awg_ohm_per_km(gauge: float) -> float:
    """Resistance of a solid copper wire of an American gauge at 20 °C.

    R = ρ·l/A with l = 1000 m.

    Parameters
    ----------
    gauge : float
        Gauge number [-]; 0, -1, -2, -3 for 1/0 to 4/0.

    Returns
    -------
    float
        Resistance [ohm/km].

    References
    ----------
    ASTM B258 for the area, IEC 60028 for annealed copper: 1/58 ohm·mm²/m.

    Examples
    --------
    >>> round(awg_ohm_per_km(12), 2)
    5.21
    """
    return 1000 * COPPER_OHM_MM2_PER_M / awg_area(gauge)
