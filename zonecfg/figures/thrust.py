"""The force each movement of a sash takes, against what its actuators have."""

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from zonecfg.engineering.force import ChainForce, WorstForces
from zonecfg.figures.exposure import WALL_PITCH, pitch_of
from zonecfg.figures.openings import OpeningFigures
from zonecfg.figures.unread import unread
from zonecfg.model.actuator import Actuator
from zonecfg.model.opening import Opening
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown


class Need(Struct, frozen=True, gc=False):
    """One movement of a sash: what it asks of each actuator, and the weakest that has to give it."""

    movement: Literal["opening", "closing"]
    force: ChainForce
    each_n: float
    has_n: float
    actuator: str
    ratio: float  # force asked over force there


class Thrust(Struct, frozen=True, gc=False):
    """Both movements of a sash; without ``worst`` something is missing.

    ``unknown`` beside ``worst`` says that the force is at least this: friction stays that are there say no force.
    ``at_least`` says likewise that seal or friction are not stated. ``fire`` and ``snow`` are the worst of the longest
    way of a smoke vent, and of the longest way with snow.
    """

    worst: Need | None
    unknown: Unknown | None = None
    at_least: Unknown | None = None
    fire: Need | None = None
    fire_unknown: Unknown | None = None
    snow: Need | None = None


def thrusts(site: Site, openings: Mapping[str, OpeningFigures]) -> Mapping[str, Thrust]:
    """Weigh the forces of every sash that actuators move."""
    found = {}
    for key, figures in openings.items():
        if figures.actuators:
            reasons = [unread(site, "actuators", a, "push_n", "pull_n") for a in figures.actuators]
            lost = next(filter(None, reasons), None)
            actuators = [site.actuators[a] for a in figures.actuators]
            found[key] = Thrust(None, lost) if lost else _thrust(site.openings[key], figures, actuators)
    return found


def _thrust(opening: Opening, figures: OpeningFigures, actuators: list[Actuator]) -> Thrust:
    weakest = _weakest(actuators)
    if isinstance(weakest, Unknown):
        return Thrust(None, weakest if figures.forces else figures.force_unknown, fire_unknown=weakest)
    unknown = None
    if opening.stays == "friction" and opening.friction_n is None:
        unknown = Unknown("friction_n of the stays is not given", (opening.id,))
    lacks = ["seal_n_per_m"] if opening.seal_n_per_m is None else []
    if opening.friction_n is None and opening.stays != "none":
        lacks.append("friction_n")
    verb = "are" if len(lacks) > 1 else "is"
    because = f"{' and '.join(lacks)} {verb} not given, so the force is at least what is computed"
    count = len(actuators)
    worst = _worst(figures.forces, weakest, count)
    return Thrust(
        worst,
        figures.force_unknown if worst is None else unknown,
        Unknown(because, (opening.id,)) if lacks else None,
        _worst(figures.fire_forces, weakest, count),
        figures.fire_unknown,
        _worst(figures.snow_forces, weakest, count),
    )


Weakest = tuple[tuple[str, float], tuple[str, float]]
"""The actuator that pushes least, and the one that pulls least, each with its force."""


def _weakest(actuators: list[Actuator]) -> Weakest | Unknown:
    push, pull = (actuators[0].id, 0.0), (actuators[0].id, 0.0)
    for number, actuator in enumerate(actuators):
        pushes = actuator.thrust_n if actuator.push_n is None else actuator.push_n
        pulls = actuator.thrust_n if actuator.pull_n is None else actuator.pull_n
        if pushes is None or pulls is None:
            return Unknown("thrust_n of the actuator is not given", (actuator.id,))
        if not number or pushes < push[1]:
            push = actuator.id, pushes
        if not number or pulls < pull[1]:
            pull = actuator.id, pulls
    return push, pull


def _worst(forces: WorstForces | None, weakest: Weakest, count: int) -> Need | None:
    if forces is None:
        return None
    push, pull = weakest
    opens, closes = forces.opening.total_n / count, forces.closing.total_n / count
    if closes / pull[1] > opens / push[1]:
        return Need("closing", forces.closing, closes, pull[1], pull[0], closes / pull[1])
    return Need("opening", forces.opening, opens, push[1], push[0], opens / push[1])


def need_words(site: Site, opening: Opening, figures: OpeningFigures, need: Need, stroke_mm: float | None) -> str:
    """Say what a movement takes, where on the travel to a stroke, and of whom."""
    count = len(figures.actuators)
    of = f"of {figures.actuators[0]}" if count == 1 else f"of each of {count} actuators"
    gust = f"in a gust of {site.info.wind_m_s:g} m/s" if need.force.wind_n else "without wind"
    return (
        f"{need.movement} {opening.id} takes {need.each_n:.0f} N {of} at {need.force.stroke_mm:.0f} mm of "
        f"{stroke_mm:g} mm, {gust}"
    )


def left_out(opening: Opening, figures: OpeningFigures) -> str:
    """Say after a force what it does not hold; empty where it holds all."""
    said = []
    if figures.mass_estimated:
        said.append(f"mass estimated from the glass, {figures.mass_kg:.1f} kg")
    missing = ["no seal"] if opening.seal_n_per_m is None else []
    if opening.friction_n is None and opening.stays != "none":
        missing.append("no friction")
    if missing:
        said.append(f"{' and '.join(missing)} given, so counted as 0")
    if pitch_of(opening) < WALL_PITCH and figures.snow_forces is None:
        said.append("snow is not included")
    return f" ({'; '.join(said)})" if said else ""
