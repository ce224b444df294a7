"""Limits and resistances of an RS-485 bus."""

import math

LIGHT_M_S = 299_792_458.0
LINE_OHM = 120.0
UNIT_LOADS = 32
UNIT_LOAD_OHM = 12_000.0
LENGTH_M = 1200.0
LENGTH_BIT_RATE = 1e8


def longest_line(bit_rate: float) -> float:
    """Longest bus at a bit rate.

    A rule of thumb: length × rate ≤ 10⁸ m·bit/s, solved for the length.

    Parameters
    ----------
    bit_rate : float
        Bit rate [bit/s], above 0.

    Returns
    -------
    float
        10⁸ m·bit/s over the rate, at most 1200 m [m].

    Raises
    ------
    ValueError
        Not above 0.

    References
    ----------
    1200 m: TIA/EIA-422-B annex A, below 90 kbit/s. Length × rate ≤ 10⁸ is a rule of thumb.

    Examples
    --------
    >>> longest_line(500_000), longest_line(9600)
    (200.0, 1200.0)
    """
    if bit_rate <= 0:
        raise ValueError(f"a bit rate is above 0, not {bit_rate}")
    return min(LENGTH_M, LENGTH_BIT_RATE / bit_rate)


def measured_resistance(loop_ohm: float, near: int = 1, far: int = 1, terminator_ohm: float = LINE_OHM) -> float:
    """Resistance between the two wires, measured at one end of a bus without power.

    One terminator at each end gives 120 ∥ (120 + loop), about 60. One missing gives about 120 (that of the
    near end: 120 + loop), one too many about 40.

    Resistors in parallel add as conductances. The meter sees the near terminators beside one path: there and
    back along the cable, and through the far ones.

    Parameters
    ----------
    loop_ohm : float
        Resistance there and back along the cable [ohm], 0 and more.
    near : int
        Terminators where the meter is [-], 0 and more.
    far : int
        Terminators at the other end [-], 0 and more.
    terminator_ohm : float
        Resistance of one terminator [ohm], above 0.

    Returns
    -------
    float
        Resistance [ohm]; infinite without a terminator. Receivers are not counted.

    Raises
    ------
    ValueError
        Outside those ranges.

    References
    ----------
    ANSI/TIA/EIA-485-A: one 120 Ω resistor at each of the two ends; parallel resistances.

    Examples
    --------
    Both terminators, one missing, one too many (two of them at one end), on a short bus:

    >>> round(measured_resistance(0)), round(measured_resistance(0, far=0)), round(measured_resistance(0, near=2))
    (60, 120, 40)
    """
    if loop_ohm < 0 or near < 0 or far < 0 or terminator_ohm <= 0:
        raise ValueError("needs counts and a loop resistance of 0 and more, terminators above 0 ohm")
    siemens = near / terminator_ohm
    if far:
        siemens += 1 / (loop_ohm + terminator_ohm / far)
    return 1 / siemens if siemens else math.inf
