"""Resistance of cables, as far as a plan tells it."""

from functools import lru_cache

from zonecfg.engineering.conductors import loop_resistance, ohm_per_km
from zonecfg.model.equipment import Cable
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


def cable_ohm(cable: Cable, at_least_mm2: float = 0.0) -> float | Unknown:
    """Resistance of a cable there and back [ohm], its conductors enlarged where they are smaller than a size."""
    size, conductor_class = cable.conductor_mm2, cable.conductor_class
    if size is None or conductor_class is None or cable.length_m is None:
        lacks = [name for name in ("conductor_mm2", "conductor_class", "length_m") if getattr(cable, name) is None]
        return Unknown(
            f"{' and '.join(lacks)} of the cable {'is' if len(lacks) == 1 else 'are'} not given", (cable.id,)
        )
    celsius = CONDUCTOR_C if cable.conductor_c is None else cable.conductor_c
    per_m = ohm_per_m(max(size, at_least_mm2), conductor_class, celsius)
    if per_m is None:
        return Unknown(f"no resistance is known of {size:g} mm², class {conductor_class} (IEC 60228)", (cable.id,))
    return cable.length_m * per_m
