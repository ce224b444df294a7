"""Wind as a pressure and as a number on Beaufort's scale."""

AIR_KG_M3 = 1.225
BEAUFORT_FROM_M_S = (0.0, 0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7)


def dynamic_pressure(wind_m_s: float) -> float:
    """Pressure of moving air.

    Bernoulli along a line that ends at rest: p + ½·ρ·v² is the same at both ends, so stopping adds ½·ρ·v².

    Parameters
    ----------
    wind_m_s : float
        Wind speed [m/s], 0 and more.

    Returns
    -------
    float
        ½·1.225·v² [Pa].

    Raises
    ------
    ValueError
        Below 0.

    References
    ----------
    Bernoulli, with the sea-level density of the International Standard Atmosphere.

    Examples
    --------
    >>> dynamic_pressure(20)
    245.0
    """
    if wind_m_s < 0:
        raise ValueError(f"a wind speed is 0 m/s or more, not {wind_m_s}")
    return AIR_KG_M3 / 2 * wind_m_s * wind_m_s
