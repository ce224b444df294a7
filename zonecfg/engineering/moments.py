"""What turns a hinged sash, and the force that takes along the chain of its actuator.

The chain lies along the chord from the frame to the point it moves, r from the hinge axis. At the angle a that chord
makes an angle of 90° - a/2 with the sash, so its lever about the hinge is r·cos(a/2), and a moment M takes the force
M/(r·cos(a/2)). Weight turns the sash by m·g·(L/2)·k(a). For every hinge and direction k has one form,

    k(a) = u·sin(β)·cos(a) + v·cos(β)·sin(a),    β = 90° - pitch

with u and v each -1, 0 or 1: `SIGNS`. Positive resists opening. A centre pivot is balanced: no weight, and of the wind
only the difference between its halves.
"""

import math

G_M_S2 = 9.81

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


def signs_of(hinge: str, opens: str) -> tuple[int, int]:
    """Give u and v of a kind of sash.

    Parameters
    ----------
    hinge : str
        `top-hung`, `bottom-hung`, `side-hung` or `centre-pivot` [-].
    opens : str
        `outward` or `inward` [-].

    Returns
    -------
    tuple[int, int]
        Each -1, 0 or 1 [-].

    Raises
    ------
    ValueError
        No such sash.

    References
    ----------
    Geometry: which way the centre of gravity moves.

    Examples
    --------
    >>> signs_of("side-hung", "outward")
    (1, 0)
    """
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

    The centre of gravity lies L/2 from the hinge. The way it moves as the sash opens has an upward share k(a); by
    virtual work the moment is m·g·(L/2)·k(a), and the chain meets it at its lever.

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

    Examples
    --------
    A published lever: 50 kg with the centre of gravity at 0.8 m, lifted by two struts at 0.25 m, 784.8 N each.

    >>> round(weight_force("top-hung", "outward", 50, 1600, 0, pitch_deg=0, actuator_at_mm=250) / 2, 1)
    784.8
    """
    u, v = signs_of(hinge, opens)
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

    Pressure resists opening an outward sash, suction resists closing it; inward the reverse. The pressure p on B·L
    acts at the middle, L/2 from the hinge: the moment is p·B·L·L/2.

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

    Examples
    --------
    10 m/s give 61.25 Pa, on 2 m² 122.5 N (published); the chain at the edge holds half, the hinges the other half.

    >>> wind_force(61.25, 1000, 2000, 0)
    61.25
    """
    radius_mm = hinge_to_edge_mm if actuator_at_mm is None else actuator_at_mm
    lever_mm = radius_mm * math.cos(math.radians(angle_deg) / 2)
    return pressure_pa * along_hinge_mm * hinge_to_edge_mm * 1e-6 * hinge_to_edge_mm / 2 / lever_mm


def pivot_wind_moment(pressure_pa: float, edge_to_edge_mm: float, along_axis_mm: float, coefficient: float) -> float:
    """Moment of wind that presses harder on one half of a centre pivot than on the other.

    Were both halves pressed alike, the sash would be balanced. The difference, a share of the pressure, acts on one
    half, B·L/2, at its middle, L/4 from the axis.

    Parameters
    ----------
    pressure_pa : float
        Pressure across the sash [Pa], 0 and more.
    edge_to_edge_mm : float
        Whole length across the axis [mm], above 0.
    along_axis_mm : float
        Length along the axis [mm], above 0.
    coefficient : float
        Difference of pressure between the halves over the pressure [-], 0 and more; stated by the designer.

    Returns
    -------
    float
        c·p·(B·L/2)·(L/4) [N·m].

    References
    ----------
    Moments about the axis.

    Examples
    --------
    245 Pa (20 m/s), 1.4 m across and 1.2 m along the axis, a difference of 0.3: 0.3·245·0.84·0.35.

    >>> round(pivot_wind_moment(245, 1400, 1200, 0.3), 2)
    21.61
    """
    half_m2 = along_axis_mm * edge_to_edge_mm / 2 * 1e-6
    return coefficient * pressure_pa * half_m2 * edge_to_edge_mm / 4 * 1e-3


def seal_moment(hinge: str, swing_mm: float, along_mm: float, seal_n_per_m: float) -> float:
    """Moment of the seal of a closed sash about its hinge.

    A seal presses by s along every edge that leaves the frame. The closing edge, of the length B, is at L: s·B·L. On
    each side the distance x runs from 0 to L, and ∫ s·x dx = s·L²/2; there are two. At the hinge the lever is
    nothing. A centre pivot has two edges at l = L/2 and four half sides, each of the length l: 2·s·B·l + 4·s·l²/2.

    Parameters
    ----------
    hinge : str
        `centre-pivot`, or any that turns about one side [-].
    swing_mm : float
        Hinge axis to the moving edge, half the sash of a centre pivot [mm], above 0.
    along_mm : float
        Length along the hinge [mm], above 0.
    seal_n_per_m : float
        Force of the seal on each metre [N/m], 0 and more.

    Returns
    -------
    float
        s·(B·L + L²) [N·m]; of a centre pivot 2·s·(B·l + l²) with l half of the sash.

    References
    ----------
    Moments about the hinge.

    Examples
    --------
    600 × 2000 mm, top-hung, 100 N/m: 100·(0.6·2 + 2²) = 520 N·m, which an actuator at 400 mm meets with 1300 N.

    >>> seal_moment("top-hung", 2000, 600, 100)
    520.0
    """
    moment = seal_n_per_m * (along_mm * swing_mm + swing_mm * swing_mm) * 1e-6
    return 2 * moment if hinge == "centre-pivot" else moment


def held_at_edge(hold_n: float, swing_mm: float, stroke_mm: float, actuator_at_mm: float) -> float:
    """Force at the closing edge that an actuator at rest can hold.

    Somebody leans on the edge, square to the sash, at L from the hinge: the moment is F·L. The chain holds it with
    its own force at its own lever, r·cos(a/2), so F = H·r·cos(a/2)/L, and sin(a/2) = w/2r.

    Parameters
    ----------
    hold_n : float
        Force the chain holds [N], 0 and more.
    swing_mm : float
        Hinge axis to the moving edge [mm], above 0.
    stroke_mm : float
        Stroke it stands at [mm], 0 and more.
    actuator_at_mm : float
        Hinge axis to where it takes hold [mm], above 0.

    Returns
    -------
    float
        H·r·cos(a/2)/L [N]; 0 where the stroke reaches twice the actuator's distance.

    References
    ----------
    Moments about the hinge.

    Examples
    --------
    260 N held at a quarter of the sash, nearly closed: 65 N at the edge.

    >>> round(held_at_edge(260, 1000, 30, 250), 1)
    64.9
    """
    sine = stroke_mm / (2 * actuator_at_mm)
    return hold_n * actuator_at_mm * math.sqrt(max(1 - sine * sine, 0.0)) / swing_mm


def snow_mass(ground_kpa: float, pitch_deg: float, width_mm: float, height_mm: float) -> float:
    """Mass of the snow that lies on a closed roof sash.

    Parameters
    ----------
    ground_kpa : float
        Snow load on the ground [kPa], 0 and more.
    pitch_deg : float
        Pitch of the sash from horizontal [deg], 0 to 90.
    width_mm : float
        Width of the sash [mm], above 0.
    height_mm : float
        Height of the sash, along its plane [mm], above 0.

    Returns
    -------
    float
        μ·s_k·(B·L·cos φ)/g [kg], μ 0.8 to 30° and falling to 0 at 60°: the load stands on the horizontal projection.

    References
    ----------
    EN 1991-1-3, shape coefficient μ₁; from memory.

    Examples
    --------
    0.75 kPa on a flat square metre: 0.8·750/9.81.

    >>> round(snow_mass(0.75, 0, 1000, 1000), 1)
    61.2
    """
    shape = 0.8 * min(max((60 - pitch_deg) / 30, 0.0), 1.0)
    plan_m2 = width_mm * height_mm * 1e-6 * math.cos(math.radians(pitch_deg))
    return shape * ground_kpa * 1000 * plan_m2 / G_M_S2
