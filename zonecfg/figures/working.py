"""A figure with its working: each line a formula, the same with the numbers put in, what comes out, and its source.

The numbers are put in with six digits, so that what stands there can be worked out again by hand or by machine:
``asin``, ``sin`` and ``cos`` are of degrees, ``²`` and ``√`` what they are on paper.
"""

from collections.abc import Callable, Iterator, Mapping
from math import cos, radians, sin, sqrt
from types import MappingProxyType

from zonecfg.engineering.force import ChainForce
from zonecfg.engineering.moments import G_M_S2, signs_of
from zonecfg.engineering.sash import GLASS_KG_PER_M2_MM
from zonecfg.engineering.wind import dynamic_pressure
from zonecfg.errors import UnknownName
from zonecfg.figures import Figures
from zonecfg.figures.cables import cable_ohm, size_of
from zonecfg.figures.exposure import pitch_of
from zonecfg.figures.network import Network
from zonecfg.figures.openings import OpeningFigures
from zonecfg.model.opening import Opening
from zonecfg.model.wiring import Cable
from zonecfg.results.figure import WorkingLine
from zonecfg.results.finding import Unknown
from zonecfg.results.nearest import did_you_mean

GEOMETRY = "geometry: the stroke is a chord of the actuator's circle"
MOMENTS = "moments about the hinge"
OHM = "Ohm's and Kirchhoff's laws"


def working(figures: Figures, about: str) -> tuple[WorkingLine, ...]:
    """Work a thing's figures out line by line.

    Parameters
    ----------
    figures
        The site with everything computed about it.
    about
        The thing, as ``section/id``: an opening, an actuator, a room, a cable or a supply.

    Raises
    ------
    UnknownName
        There is no such thing, or nothing is computed of its section.
    """
    section, _, thing = about.strip("/").partition("/")
    if section not in _BY_SECTION:
        raise UnknownName(
            f"{about}: nothing is worked out of {section}; name one of {', '.join(_BY_SECTION)} and an id"
        )
    if thing not in getattr(figures.site, section):
        raise UnknownName(
            f"{about}: {thing} is none of the {section}{did_you_mean(thing, getattr(figures.site, section))}"
        )
    return tuple(_BY_SECTION[section](figures, thing))


def _n(value: float) -> str:
    return f"{value + 0.0:.6g}"  # no -0


def _given(what: str, symbol: str, value: float | None, unit: str, source: str = "the plan") -> WorkingLine:
    return WorkingLine(what=what, symbol=symbol, result=value, unit=unit, source=source)


def _line(what: str, symbol: str, formula: str, numbers: str, result: float, unit: str, source: str) -> WorkingLine:
    return WorkingLine(
        what=what, symbol=symbol, formula=formula, numbers=numbers, result=float(_n(result)), unit=unit, source=source
    )


def _lacking(unknown: Unknown | None) -> Iterator[WorkingLine]:
    if unknown is not None:
        yield WorkingLine(what=f"not computed: {unknown.because}", symbol="", result=None, unit="", source="")


def _of_opening(figures: Figures, key: str) -> Iterator[WorkingLine]:
    opening, known = figures.site.openings[key], figures.openings[key]
    levers, opened, stroke = known.levers, known.opened, known.stroke_mm
    if levers is None or opened is None or stroke is None or opening.width_mm is None or opening.height_mm is None:
        yield from _lacking(known.unknown or known.shape_unknown)
        return
    swing, along, radius, angle, gap = (
        levers.swing_mm, levers.along_mm, levers.radius_mm, opened.angle_deg, opened.gap_mm,
    )  # fmt: skip
    pivot = opening.hinge == "centre-pivot"
    yield _given("hinge axis to the moving edge", "L", swing, "mm")
    yield _given("length along the hinge", "B", along, "mm")
    yield _given("hinge axis to where the actuator takes hold", "r", radius, "mm")
    yield _given("stroke that is set", "w", stroke, "mm")
    put_in = f"2 · asin({_n(stroke)} / (2 · {_n(radius)}))"
    yield _line("angle", "a", "2 · asin(w / (2 · r))", put_in, angle, "°", GEOMETRY)
    put_in = f"{_n(stroke)} · {_n(swing)} / {_n(radius)}"
    yield _line("gap at the moving edge", "g", "w · L / r", put_in, gap, "mm", GEOMETRY)
    twice = "2 · " if pivot else ""
    put_in = f"{twice}({_n(along)} · {_n(gap)} + {_n(swing)}² · sin({_n(angle)})) / 10⁶"
    source = "AixLib, Airflow.WindowVentilation: rectangle and two triangles" + ("; both halves" if pivot else "")
    formula = f"{twice}(B · g + L² · sin(a)) / 10⁶"
    yield _line("area beside the sash", "A₁", formula, put_in, opened.geometric_m2, "m²", source)
    put_in = f"{_n(opening.width_mm)} · {_n(opening.height_mm)} / 10⁶"
    yield _line("hole in the frame", "A₂", "width · height / 10⁶", put_in, opened.clear_m2, "m²", "geometry")
    put_in = f"min({_n(opened.geometric_m2)}, {_n(opened.clear_m2)})"
    yield _line("free area", "A", "min(A₁, A₂)", put_in, opened.free_m2, "m²", "the narrower place")
    yield from _of_mass(opening, known.mass_kg)
    yield from _of_force(figures, key)


def _of_mass(opening: Opening, mass: float | None) -> Iterator[WorkingLine]:
    if mass is None:
        return
    if opening.sash_mass_kg is not None or opening.glass_mm is None:
        yield _given("mass of the sash", "m", mass, "kg")
        return
    sides = f"{_n(opening.width_mm or 0)} · {_n(opening.height_mm or 0)}"
    put_in = f"{GLASS_KG_PER_M2_MM} · {_n(opening.glass_mm)} · {sides} / 10⁶"
    formula = f"{GLASS_KG_PER_M2_MM} · glass_mm · width · height / 10⁶"
    yield _line("mass of the sash, from its glass", "m", formula, put_in, mass, "kg", "common practice: 2500 kg/m³")


def _of_force(figures: Figures, key: str) -> Iterator[WorkingLine]:
    """The hardest place of each movement, its parts, what each actuator takes of them and what it has."""
    opening, known, wind = figures.site.openings[key], figures.openings[key], figures.site.info.wind_m_s
    if known.forces is None or known.levers is None or known.mass_kg is None or wind is None:
        yield from _lacking(known.force_unknown)
        return
    put_in = f"1/2 · 1.225 · {_n(wind)}²"
    yield _line("wind pressure", "q", "1/2 · 1.225 · v²", put_in, dynamic_pressure(wind), "Pa", "air of 1.225 kg/m³")
    for name, there in (("opening", known.forces.opening), ("closing", known.forces.closing)):
        yield _given(
            f"{name} is hardest at", "w", float(_n(there.stroke_mm)), "mm", "the largest over the whole travel"
        )
        yield from _parts(opening, known, there, dynamic_pressure(wind), 1 if name == "opening" else -1)
        parts = (there.weight_n, there.wind_n, there.seal_n, there.friction_n)
        put_in = (
            f"({' + '.join(_n(part) if part >= 0 else f'({_n(part)})' for part in parts)}) / {len(known.actuators)}"
        )
        each = there.total_n / len(known.actuators)
        formula = "(F₁ + F₂ + F₃ + F₄) / actuators"
        yield _line(f"{name}, each actuator", "F", formula, put_in, each, "N", "shared alike")
        for actuator in known.actuators:
            device = figures.site.actuators[actuator]
            has = device.thrust_n if name == "opening" or device.pull_n is None else device.pull_n
            if has:
                put_in = f"100 · {_n(max(each, 0.0))} / {_n(has)}"
                what = f"use of the {_n(has)} N of {actuator}"
                use = 100 * max(each, 0.0) / has
                yield _line(what, "", "100 · F / thrust", put_in, use, "%", "the actuator's type")


def _parts(
    opening: Opening, known: OpeningFigures, there: ChainForce, pressure: float, sign: int
) -> Iterator[WorkingLine]:
    """Weight, wind, seal and friction on the chain, which stands at its lever r · cos(a/2)."""
    levers, mass = known.levers, known.mass_kg
    if levers is None or mass is None or opening.hinge is None or opening.opens is None:
        return
    radius, along, pivot = levers.radius_mm, levers.along_mm, opening.hinge == "centre-pivot"
    reach = levers.swing_mm * (2 if pivot else 1)
    u, v = signs_of(opening.hinge, opening.opens)
    slope = radians(90 - pitch_of(opening))
    flat, steep = sign * u * sin(slope), sign * v * cos(slope)
    s = there.stroke_mm / (2 * radius)
    c = sqrt(1 - s * s)
    put_in = f"{_n(there.stroke_mm)} / (2 · {_n(radius)})"
    yield _line("sine of half the angle", "s", "w / (2 · r)", put_in, s, "", GEOMETRY)
    yield _line("its cosine", "c", "√(1 - s²)", f"√(1 - {_n(s)}²)", c, "", GEOMETRY)
    weight = f"{_n(mass)} · {G_M_S2} · {_n(reach)} / {_n(radius)}"
    put_in = f"{weight} · ({_n(flat)} · (2 · {_n(c)} - 1 / {_n(c)}) / 2 + {_n(steep)} · {_n(s)})"
    formula = f"m · {G_M_S2} · reach / r · (k₁ · (2 · c - 1 / c) / 2 + k₂ · s)"
    yield _line("weight on the chain", "F₁", formula, put_in, there.weight_n, "N", f"{MOMENTS}; k of hinge and pitch")
    if pivot:
        yield _given("wind on the chain", "F₂", float(_n(there.wind_n)), "N", f"{MOMENTS}; pivot_coefficient")
    else:
        put_in = f"{_n(pressure)} · {_n(reach)} · {_n(along)} / 10⁶ · {_n(reach)} / 2 / ({_n(radius)} · {_n(c)})"
        formula = "q · L · B / 10⁶ · L / 2 / (r · c)"
        yield _line("wind on the chain", "F₂", formula, put_in, there.wind_n, "N", MOMENTS)
    yield _given("seal", "F₃", float(_n(there.seal_n)), "N", f"{MOMENTS}; within 5 mm of closed")
    yield _given("friction", "F₄", float(_n(there.friction_n)), "N")


def _of_actuator(figures: Figures, key: str) -> Iterator[WorkingLine]:
    """Its lowest voltage: what every cable of its way loses, with those moving that make it worst; then its time."""
    actuator, network = figures.site.actuators[key], figures.power.feeding(key)
    if isinstance(network, Unknown):
        yield from _lacking(network)
    else:
        yield from _voltage(figures, network, key)
    if actuator.stroke_mm is not None and actuator.speed_mm_s:
        put_in = f"{_n(actuator.stroke_mm)} / {_n(actuator.speed_mm_s)}"
        took = actuator.stroke_mm / actuator.speed_mm_s
        yield _line("time of the whole stroke", "t", "w / speed", put_in, took, "s", "the actuator's type")


def _voltage(figures: Figures, network: Network, key: str) -> Iterator[WorkingLine]:
    event, source, currents = network.at_worst(key)
    moving = ", ".join(currents.moving) or "nothing"
    yield _given(f"voltage of {network.supply.id} when {event}, with {moving} moving", "U₀", source, "V")
    drops = []
    for cable_id in network.way_to(key):
        cable = figures.site.cables[cable_id]
        yield from _resistance(cable, cable_id)
        ohm, amp = cable_ohm(cable), abs(currents.through[cable_id])
        if isinstance(ohm, Unknown):
            return
        drops.append(amp * ohm)
        yield _given(
            f"current of {cable_id} then", "I", float(_n(amp)), "A", "all that moves behind it, and the rest idle"
        )
        what = f"lost in {cable_id}"
        yield _line(what, "ΔU", "I · R", f"{_n(amp)} · {_n(ohm)}", drops[-1], "V", OHM)
    put_in = " - ".join((_n(source), *map(_n, drops)))
    yield _line("voltage that is left", "U", "U₀ - ΔU of each cable", put_in, source - sum(drops), "V", OHM)
    least = figures.site.actuators[key].voltage_min_v
    if least is not None:
        yield _given("its least voltage", "", least, "V", "the actuator's type")


def _resistance(cable: Cable, name: str) -> Iterator[WorkingLine]:
    """There and back, at the conductor's temperature."""
    ohm, size, length = cable_ohm(cable), size_of(cable), cable.length_m
    if isinstance(ohm, Unknown) or size is None or not length:
        yield from _lacking(ohm if isinstance(ohm, Unknown) else None)
        return
    per_km = ohm / (2 * length) * 1000
    what = f"resistance of {name} ({_n(size)} mm²), there and back"
    put_in = f"2 · {_n(length)} · {_n(per_km)} / 1000"
    source = "IEC 60228 at 20 °C, 0.00393 a kelvin for copper"
    yield _line(what, "R", "2 · length · ohm_per_km / 1000", put_in, ohm, "Ω", source)


def _of_cable(figures: Figures, key: str) -> Iterator[WorkingLine]:
    cable = figures.site.cables[key]
    yield from _resistance(cable, key)
    feed = figures.topology.feed_of.get(cable.from_ or "")
    if feed is None or not feed.supplies or key not in feed.piece.cables:
        return
    network = figures.power.network_of(feed.supplies[0])
    carried = None if isinstance(network, Unknown) else network.carried(cable)
    if carried is None:
        yield from _lacking(network if isinstance(network, Unknown) else network.load_unknown)
        return
    yield _given(
        f"largest current, when {carried.event}", "I", float(_n(carried.amp)), "A", "all that may move behind it"
    )
    if (ohm := cable_ohm(cable)) and not isinstance(ohm, Unknown):
        yield _line("lost in it", "ΔU", "I · R", f"{_n(carried.amp)} · {_n(ohm)}", carried.amp * ohm, "V", OHM)
    if cable.current_max_a is not None:
        yield _given("it may carry", "", cable.current_max_a, "A", "the cable's type")


def _of_supply(figures: Figures, key: str) -> Iterator[WorkingLine]:
    network = figures.power.network_of(key)
    if isinstance(network, Unknown) or network.load_unknown is not None:
        yield from _lacking(network if isinstance(network, Unknown) else network.load_unknown)
        return
    rest, extra = network.at_peak()
    yield _given("at rest, all together", "I₀", float(_n(rest)), "A", "idle_a of the types")
    for actuator, amp in extra.items():
        yield _given(
            f"{actuator} more while it moves", "", float(_n(amp)), "A", "peak_a or running_a, less idle_a, of its type"
        )
    put_in = " + ".join(map(_n, (rest, *extra.values())))
    what = f"largest current, when {network.peak.event}"
    yield _line(what, "I", "I₀ + what moves", put_in, network.peak.amp, "A", "the moment that is worst")
    if (output := figures.site.supplies[key].output_a) is not None:
        yield _given("it can give", "", output, "A", "the supply's type")


def _of_room(figures: Figures, key: str) -> Iterator[WorkingLine]:
    known, site = figures.rooms[key], figures.site
    areas = {}
    for opening in known.openings:
        if (opened := figures.openings[opening].opened) is not None:
            areas[opening] = opened.free_m2
            yield _given(f"free area of {opening}", "", float(_n(opened.free_m2)), "m²", "--working of it")
    if other := site.rooms[key].other_openings_m2:
        areas["other openings"] = other
        yield _given("other openings", "", other, "m²")
    if known.free_area_m2 is not None and areas:
        put_in = " + ".join(map(_n, areas.values()))
        yield _line("free area of the room", "A", "sum", put_in, known.free_area_m2, "m²", "its openings together")
    if known.counted_area_m2 is not None:
        yield _given("counted by the rule set", "", float(_n(known.counted_area_m2)), "m²", "site.rules.ventilation")
    if known.required_area_m2 is not None:
        yield _given("asked", "", float(_n(known.required_area_m2)), "m²", "site.rules.ventilation")


_BY_SECTION: Mapping[str, Callable[[Figures, str], Iterator[WorkingLine]]] = MappingProxyType(
    {
        "openings": _of_opening,
        "actuators": _of_actuator,
        "rooms": _of_room,
        "cables": _of_cable,
        "supplies": _of_supply,
    }
)
