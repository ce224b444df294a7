"""Limits and resistances of an RS-485 bus."""

import math

LIGHT_M_S = 299_792_458.0
LINE_OHM = 120.0
UNIT_LOADS = 32
UNIT_LOAD_OHM = 12_000.0
LENGTH_M = 1200.0
LENGTH_BIT_RATE = 1e8


def receiver_resistance(unit_load: float) -> float:
    """Input resistance that a share of a unit load stands for.

    Parameters
    ----------
    unit_load : float
        Unit loads [-], above 0: 1, 1/2, 1/4, 1/8.

    Returns
    -------
    float
        12 000 over the unit loads [ohm].

    Raises
    ------
    ValueError
        Not above 0.

    References
    ----------
    ANSI/TIA/EIA-485-A: 32 unit loads a segment, each of about 12 kΩ.
    """
    if unit_load <= 0:
        raise ValueError(f"a unit load is above 0, not {unit_load}")
    return UNIT_LOAD_OHM / unit_load


def longest_line(bit_rate: float) -> float:
    """Longest bus at a bit rate.

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
    """
    if bit_rate <= 0:
        raise ValueError(f"a bit rate is above 0, not {bit_rate}")
    return min(LENGTH_M, LENGTH_BIT_RATE / bit_rate)


def longest_stub(rise_time_ns: float, velocity: float) -> float:
    """Longest stub a driver's edge does not notice.

    Parameters
    ----------
    rise_time_ns : float
        Rise time of the driver, 10 to 90 % [ns], 0 and more.
    velocity : float
        Signal velocity over that of light [-], above 0 to 1; about 0.78 for twisted pairs.

    Returns
    -------
    float
        A tenth of the way the signal goes in the rise time [m].

    Raises
    ------
    ValueError
        Outside those ranges.

    References
    ----------
    Stub ≤ 0.1·t_r·v·c: transceiver data sheets, as TI SLLSEV1.
    """
    if rise_time_ns < 0 or not 0 < velocity <= 1:
        raise ValueError(f"no such edge or cable: {rise_time_ns} ns, {velocity} of light")
    return 0.1 * rise_time_ns * 1e-9 * velocity * LIGHT_M_S


def critical_length(transition_ns: float, delay_ns_per_m: float) -> float:
    """Length from which a cable must be treated as a line.

    Parameters
    ----------
    transition_ns : float
        Transition time of the driver [ns], 0 and more.
    delay_ns_per_m : float
        Propagation delay [ns/m], above 0.

    Returns
    -------
    float
        t_t / (2·t_pd) [m]; stubs stay below a third of it.

    Raises
    ------
    ValueError
        Outside those ranges.

    References
    ----------
    CANopen and ECSS cabling rules.
    """
    if transition_ns < 0 or delay_ns_per_m <= 0:
        raise ValueError(f"no such edge or cable: {transition_ns} ns, {delay_ns_per_m} ns/m")
    return transition_ns / (2 * delay_ns_per_m)


def measured_resistance(loop_ohm: float, near: int = 1, far: int = 1, terminator_ohm: float = LINE_OHM) -> float:
    """Resistance between the two wires, measured at one end of a bus without power.

    One terminator at each end gives 120 ∥ (120 + loop), about 60. One missing gives about 120 (that of the
    near end: 120 + loop), one too many about 40.

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
    """
    if loop_ohm < 0 or near < 0 or far < 0 or terminator_ohm <= 0:
        raise ValueError("needs counts and a loop resistance of 0 and more, terminators above 0 ohm")
    siemens = near / terminator_ohm
    if far:
        siemens += 1 / (loop_ohm + terminator_ohm / far)
    return 1 / siemens if siemens else math.inf


def bias_resistors(
    supply_v: float, wanted_v: float, unit_loads: float = UNIT_LOADS, line_ohm: float = LINE_OHM
) -> tuple[float, float]:
    """Resistors that hold an idle bus in a known state.

    Parameters
    ----------
    supply_v : float
        Supply of the bias resistors [V], above 0.
    wanted_v : float
        Idle voltage to size for [V], above 0: receiver threshold plus a margin for noise.
    unit_loads : float
        Receivers on the bus [-], 0 and more.
    line_ohm : float
        Impedance of the line [ohm], above 0; also the terminator of the end without bias.

    Returns
    -------
    tuple[float, float]
        Each of the two bias resistors, and the terminator of the biased end, which in parallel with both
        matches the line [ohm]. The voltage reached is `idle_voltage`; the formula as published leaves it
        below the one wanted.

    Raises
    ------
    ValueError
        Outside those ranges, or bias so strong that it alone is under the line's impedance.

    References
    ----------
    Renesas TB509: R_B = (V_S/V_AB + 1) / (4/Z + N/12 kΩ), R_T = Z·R_B / (R_B - Z/2).
    """
    if supply_v <= 0 or wanted_v <= 0 or unit_loads < 0 or line_ohm <= 0:
        raise ValueError("needs voltages and an impedance above 0, unit loads of 0 and more")
    bias = (supply_v / wanted_v + 1) / (4 / line_ohm + unit_loads / UNIT_LOAD_OHM)
    if bias <= line_ohm / 2:
        raise ValueError(f"{bias:.1f} ohm of bias cannot be matched to a line of {line_ohm} ohm")
    return bias, line_ohm * bias / (bias - line_ohm / 2)


def idle_voltage(
    supply_v: float, bias_ohm: float, bias_end_ohm: float, far_end_ohm: float, unit_loads: float = UNIT_LOADS
) -> float:
    """Voltage between the wires of a biased bus that nobody drives.

    Parameters
    ----------
    supply_v : float
        Supply of the bias resistors [V], 0 and more.
    bias_ohm : float
        Each of the two bias resistors [ohm], above 0.
    bias_end_ohm : float
        Terminator of the biased end [ohm], above 0.
    far_end_ohm : float
        Terminator of the other end [ohm], above 0.
    unit_loads : float
        Receivers on the bus, each wire of each to ground [-], 0 and more.

    Returns
    -------
    float
        Voltage between the wires [V].

    Raises
    ------
    ValueError
        A resistor not above 0.

    References
    ----------
    Kirchhoff's current law at both wires, subtracted.
    """
    if min(bias_ohm, bias_end_ohm, far_end_ohm) <= 0:
        raise ValueError("needs resistors above 0 ohm")
    between = 2 / bias_end_ohm + 2 / far_end_ohm + unit_loads / UNIT_LOAD_OHM + 1 / bias_ohm
    return supply_v / bias_ohm / between
