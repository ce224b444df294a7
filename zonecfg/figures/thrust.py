"""The force each movement of a sash takes, against what its actuators have."""

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from zonecfg.engineering.force import ChainForce
from zonecfg.figures.exposure import WALL_PITCH, pitch_of
from zonecfg.figures.openings import OpeningFigures
from zonecfg.figures.unread import unread
from zonecfg.model.building import Opening
from zonecfg.model.equipment import Actuator
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

    ``unknown`` beside ``worst`` says that the force is at least this: friction that is there is not known.
    """

    worst: Need | None
    unknown: Unknown | None = None


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
    forces = figures.forces
    if forces is None:
        return Thrust(None, figures.force_unknown)
    push, pull = (actuators[0].id, 0.0), (actuators[0].id, 0.0)
    for number, actuator in enumerate(actuators):
        pushes = actuator.thrust_n if actuator.push_n is None else actuator.push_n
        pulls = actuator.thrust_n if actuator.pull_n is None else actuator.pull_n
        if pushes is None or pulls is None:
            return Thrust(None, Unknown("thrust_n of the actuator is not given", (actuator.id,)))
        if not number or pushes < push[1]:
            push = actuator.id, pushes
        if not number or pulls < pull[1]:
            pull = actuator.id, pulls
    count = len(actuators)
    opens, closes = forces.opening.total_n / count, forces.closing.total_n / count
    if closes / pull[1] > opens / push[1]:
        worst = Need("closing", forces.closing, closes, pull[1], pull[0], closes / pull[1])
    else:
        worst = Need("opening", forces.opening, opens, push[1], push[0], opens / push[1])
    unknown = None
    if opening.stays == "friction" and opening.friction_n is None:
        unknown = Unknown("friction_n of the stays is not given", (opening.id,))
    return Thrust(worst, unknown)


def need_words(site: Site, opening: Opening, figures: OpeningFigures, need: Need) -> str:
    """Say what a movement takes, where on the travel, and of whom."""
    count = len(figures.actuators)
    of = f"of {figures.actuators[0]}" if count == 1 else f"of each of {count} actuators"
    gust = f"in a gust of {site.info.wind_m_s:g} m/s" if need.force.wind_n else "without wind"
    return (
        f"{need.movement} {opening.id} takes {need.each_n:.0f} N {of} at {need.force.stroke_mm:.0f} mm of "
        f"{figures.stroke_mm:g} mm, {gust}"
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
    if pitch_of(opening) < WALL_PITCH:
        said.append("snow is not included")
    return f" ({'; '.join(said)})" if said else ""
