"""What every sash opens to, and the force that takes."""

from collections.abc import Mapping, Sequence
from functools import lru_cache

from msgspec import Struct

from zonecfg.engineering.force import WorstForces, worst_forces
from zonecfg.engineering.moments import snow_mass
from zonecfg.engineering.sash import SashOpening, levers, sash_mass, sash_opening
from zonecfg.engineering.wind import dynamic_pressure
from zonecfg.figures.exposure import WALL_PITCH, pitch_of
from zonecfg.figures.unread import unread
from zonecfg.model.actuator import Actuator
from zonecfg.model.opening import Opening
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown

BEYOND_EDGE = 1.1
"""How far beyond the moving edge a bracket may take hold, as a share of the sash; common practice."""


class Levers(Struct, frozen=True, gc=False):
    """The lengths that decide how a sash turns."""

    swing_mm: float  # hinge axis to the moving edge; half the height of a centre pivot
    along_mm: float  # along the hinge
    radius_mm: float  # hinge axis to where the actuators take hold


class OpeningFigures(Struct, frozen=True, kw_only=True, gc=False):
    """The figures of one opening; where one is None, the ``unknown`` beside it says what is missing.

    ``shape_unknown`` is of size and hinge alone, ``unknown`` of what the set stroke opens. ``forces`` are of the set
    stroke. A smoke vent has ``fire_stroke_mm``, the longest way it may have to go, and the forces of all of that way;
    ``snow_forces`` are of the longest way with the snow of the site on the sash.
    """

    actuators: Sequence[str]
    stroke_mm: float | None
    sash_area_m2: float | None
    levers: Levers | None
    shape_unknown: Unknown | None
    opened: SashOpening | None
    unknown: Unknown | None
    forces: WorstForces | None
    force_unknown: Unknown | None
    mass_kg: float | None
    mass_estimated: bool
    fire_stroke_mm: float | None = None
    fire_forces: WorstForces | None = None
    fire_unknown: Unknown | None = None
    snow_forces: WorstForces | None = None

    @property
    def push_n(self) -> float | None:
        """Largest force against opening, on each actuator."""
        return None if self.forces is None else self.forces.opening.total_n / len(self.actuators)

    @property
    def pull_n(self) -> float | None:
        """Largest force against closing, on each actuator."""
        return None if self.forces is None else self.forces.closing.total_n / len(self.actuators)

    def each_n(self, forces: WorstForces | None) -> float | None:
        """The larger of push and pull on each actuator; 0 where the sash helps both ways."""
        if forces is None:
            return None
        return max(forces.opening.total_n, forces.closing.total_n, 0.0) / len(self.actuators)


def opening_figures(site: Site) -> Mapping[str, OpeningFigures]:
    """Compute the figures of every opening.

    A sash is judged at the longest stroke its actuators are set to, a smoke vent at its fire stroke too. Its forces
    are the largest of the whole travel, in the wind of the site, shared by its actuators.
    """
    actuators_of = site.actuators_of
    wind = site.info.wind_m_s
    pressure = None if wind is None else dynamic_pressure(wind)
    nobody: list[str] = []
    return {
        opening.id: _figures_of(site, opening, actuators_of.get(opening.id, nobody), pressure)
        for opening in site.openings.values()
    }


def _figures_of(site: Site, opening: Opening, ids: Sequence[str], pressure: float | None) -> OpeningFigures:
    stroke, unset = _stroke(opening.id, ids, site.actuators)
    width, height = opening.width_mm, opening.height_mm
    shape = _levers(opening.hinge, width, height, opening.actuator_at_mm, opening.axis or "horizontal")
    shape_unknown = _lacks_shape(site, opening, shape)
    unknown = shape_unknown or unset
    opened, forces, force_unknown, mass = None, None, unknown, None
    if unknown is None and stroke is not None:
        opened = opened_to(opening, stroke)
        if opened is None:
            unknown = force_unknown = Unknown("the stroke is longer than the sash can turn", (opening.id,))
        else:
            mass = _mass(opening)
            forces, force_unknown = _forces_to(site, opening, ids, stroke, pressure)
    fire, fire_forces, fire_unknown, snow = None, None, None, None
    if opening.smoke_vent:
        fire = longest_for_smoke(opening, stroke)
        if fire is not None and ids and shape_unknown is None:
            fire_forces, fire_unknown = _forces_to(site, opening, ids, fire, pressure)
    if site.info.snow_kpa is not None and forces is not None and pitch_of(opening) < WALL_PITCH and stroke is not None:
        snow, _ = _forces_to(site, opening, ids, fire or stroke, pressure, site.info.snow_kpa)
    return OpeningFigures(
        actuators=ids,
        stroke_mm=stroke,
        sash_area_m2=width * height / 1e6 if width and height else None,
        levers=None if shape_unknown else shape,
        shape_unknown=shape_unknown,
        opened=opened,
        unknown=unknown,
        forces=forces,
        force_unknown=force_unknown,
        mass_kg=mass,
        mass_estimated=opening.sash_mass_kg is None,
        fire_stroke_mm=fire,
        fire_forces=fire_forces,
        fire_unknown=fire_unknown,
        snow_forces=snow,
    )


def longest_for_smoke(opening: Opening, stroke: float | None) -> float | None:
    """The longest way a smoke vent may have to go [mm]: thrust and geometry are judged by it."""
    return max((mm for mm in (opening.fire_stroke_mm, opening.smoke_stroke_mm, stroke) if mm is not None), default=None)


def _forces_to(
    site: Site,
    opening: Opening,
    ids: Sequence[str],
    stroke: float,
    pressure: float | None,
    snow_kpa: float = 0.0,
) -> tuple[WorstForces | None, Unknown | None]:
    """Forces over the travel to a stroke, or what is missing for them."""
    mass, width, height = _mass(opening), opening.width_mm, opening.height_mm
    unknown = _lacks_force(site, opening, ids, mass, pressure)
    if unknown is not None:
        return None, unknown
    assert opening.hinge and opening.opens and width and height and mass is not None and pressure is not None  # noqa: PT018, S101  (looked at just now)
    pitch = pitch_of(opening)
    forces = _forces(
        opening.hinge,
        opening.opens,
        width,
        height,
        stroke,
        mass + (snow_mass(snow_kpa, pitch, width, height) if snow_kpa else 0.0),
        pitch,
        opening.actuator_at_mm,
        pressure,
        opening.seal_n_per_m or 0.0,
        opening.friction_n or 0.0,
        opening.axis or "horizontal",
        opening.pivot_coefficient or 0.0,
    )
    if forces is None:
        return None, Unknown("at the end of the stroke the actuator has no lever left", (opening.id,))
    return forces, None


def _stroke(opening: str, ids: Sequence[str], actuators: Mapping[str, Actuator]) -> tuple[float | None, Unknown | None]:
    if not ids:
        return None, Unknown("no actuator moves it", (opening,))
    longest = 0.0
    for actuator in ids:
        stroke = actuators[actuator].stroke_mm
        if stroke is None:
            unset = tuple(a for a in ids if actuators[a].stroke_mm is None)
            return None, Unknown("stroke_mm is not given", unset)
        longest = max(longest, stroke)
    return longest, None


def _lacks_shape(site: Site, opening: Opening, shape: Levers | None) -> Unknown | None:
    """What is missing for the geometry of a sash, apart from its stroke."""
    if opening.hinge is None or opening.width_mm is None or opening.height_mm is None:
        lacks = [name for name in ("hinge", "width_mm", "height_mm") if getattr(opening, name) is None]
        return Unknown(
            f"{' and '.join(lacks)} of the sash {'is' if len(lacks) == 1 else 'are'} not given", (opening.id,)
        )
    if opening.hinge == "other":
        return Unknown("the geometry of a hinge `other` is not computed", (opening.id,))
    if shape is not None and shape.radius_mm > shape.swing_mm * BEYOND_EDGE:
        return Unknown("actuator_at_mm lies beyond the sash", (opening.id,))
    return unread(site, "openings", opening.id, "actuator_at_mm")


def _lacks_force(
    site: Site, opening: Opening, ids: Sequence[str], mass: float | None, pressure: float | None
) -> Unknown | None:
    if opening.opens is None:
        return Unknown("opens is not given", (opening.id,))
    if arms := tuple(a for a in ids if site.actuators[a].kind == "folding-arm"):
        return Unknown("a folding arm pushes along no chain, so its force is not computed", arms)
    if opening.hinge == "centre-pivot" and opening.axis is None:
        return Unknown("axis of the pivot is not given", (opening.id,))
    if opening.hinge == "centre-pivot" and pressure and opening.pivot_coefficient is None:
        return Unknown("pivot_coefficient is not given, so what wind does to a pivot is not computed", (opening.id,))
    if mass is None:
        return Unknown("neither sash_mass_kg nor glass_mm is given", (opening.id,))
    if pressure is None:
        return Unknown("site.wind_m_s is not given")
    fields = ("pitch_deg", "seal_n_per_m", "friction_n", "sash_mass_kg", "axis", "pivot_coefficient")
    return unread(site, "openings", opening.id, *fields)


def _mass(opening: Opening) -> float | None:
    if opening.sash_mass_kg is not None:
        return opening.sash_mass_kg
    if opening.glass_mm is None or opening.width_mm is None or opening.height_mm is None:
        return None
    return sash_mass(opening.width_mm, opening.height_mm, opening.glass_mm)


def opened_to(opening: Opening, stroke: float) -> SashOpening | None:
    """What a sash opens at a stroke; None where its shape is not known, or it cannot turn so far."""
    hinge, width, height = opening.hinge, opening.width_mm, opening.height_mm
    if hinge is None or hinge == "other" or width is None or height is None:
        return None
    return _opened(hinge, width, height, stroke, opening.actuator_at_mm, opening.axis or "horizontal")


# Plans repeat themselves: many sashes are of few types.
_opened = lru_cache(4096)(sash_opening)


@lru_cache(4096)
def _levers(hinge: str | None, width: float | None, height: float | None, at: float | None, axis: str) -> Levers | None:
    if hinge is None or hinge == "other" or width is None or height is None:
        return None
    return Levers(*levers(hinge, width, height, at, axis))


@lru_cache(4096)
def _forces(
    hinge: str,
    opens: str,
    width: float,
    height: float,
    stroke: float,
    mass: float,
    pitch: float,
    at: float | None,
    pressure: float,
    seal: float,
    friction: float,
    axis: str,
    coefficient: float,
) -> WorstForces | None:
    return worst_forces(
        hinge,
        opens,
        width,
        height,
        stroke,
        mass_kg=mass,
        pitch_deg=pitch,
        actuator_at_mm=at,
        pressure_pa=pressure,
        seal_n_per_m=seal,
        friction_n=friction,
        axis=axis,
        pivot_coefficient=coefficient,
    )
