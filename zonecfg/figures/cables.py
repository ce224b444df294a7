"""Resistance of cables, as far as a plan tells it."""

from functools import lru_cache

from zonecfg.engineering.conductors import awg_area, awg_ohm_per_km, loop_resistance, ohm_per_km
from zonecfg.model.wiring import Cable
from zonecfg.results.finding import Unknown

CONDUCTOR_C = 40.0
"""Temperature of a conductor where none is given [°C], as the format says."""


@lru_cache(256)
def ohm_per_m(size_mm2: float, conductor_class: int, conductor_c: float) -> float | None:
    """Resistance of a metre of cable there and back [ohm/m]; None for a size the tables do not have."""
    try:
        return loop_resistance(1.0, ohm_per_km(size_mm2, conductor_class), conductor_c)
    except ValueError:
        return None


def size_of(cable: Cable) -> float | None:
    """Cross-section of a conductor [mm²], whichever way it is given."""
    return awg_area(cable.conductor_awg) if cable.conductor_awg is not None else cable.conductor_mm2


def cable_ohm(cable: Cable, at_least_mm2: float = 0.0) -> float | Unknown:
    """Resistance of a cable there and back [ohm], its conductors enlarged where they are smaller than a size."""
    size, conductor_class, gauge = cable.conductor_mm2, cable.conductor_class, cable.conductor_awg
    celsius = CONDUCTOR_C if cable.conductor_c is None else cable.conductor_c
    if gauge is not None and cable.length_m is not None:
        if size is not None:
            return Unknown("conductor_mm2 and conductor_awg of the cable are both given", (cable.id,))
        if at_least_mm2 <= awg_area(gauge):
            return loop_resistance(cable.length_m, awg_ohm_per_km(gauge), celsius)
        size, conductor_class = at_least_mm2, conductor_class or 5
    if size is None or conductor_class is None or cable.length_m is None:
        lacks = [name for name in ("conductor_mm2", "conductor_class", "length_m") if getattr(cable, name) is None]
        lacks = ["length_m"] if gauge is not None else lacks
        return Unknown(
            f"{' and '.join(lacks)} of the cable {'is' if len(lacks) == 1 else 'are'} not given", (cable.id,)
        )
    per_m = ohm_per_m(max(size, at_least_mm2), conductor_class, celsius)
    if per_m is None:
        return Unknown(f"no resistance is known of {size:g} mm², class {conductor_class} (IEC 60228)", (cable.id,))
    return cable.length_m * per_m
