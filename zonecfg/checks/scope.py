"""Which things a check is about: those of a section that it applies to, named once and shared by checks."""

from collections.abc import Callable, Collection

from zonecfg.figures import Figures
from zonecfg.results.finding import Unknown

Scope = Callable[[Figures], Collection[str]]
"""Gives the ids, of the section a check is over, that it applies to."""


def moved(figures: Figures) -> Collection[str]:
    """Openings that an actuator moves."""
    return [opening for opening in figures.site.openings if figures.site.actuators_of.get(opening)]


def pairs(figures: Figures) -> Collection[str]:
    """Openings that several actuators move together."""
    return [opening for opening, actuators in figures.site.actuators_of.items() if len(actuators) > 1]


def vents(figures: Figures) -> Collection[str]:
    """Smoke vents."""
    return [opening.id for opening in figures.site.openings.values() if opening.smoke_vent]


def vents_controllers(figures: Figures) -> Collection[str]:
    """Controllers that command a smoke vent."""
    site, of = figures.site, figures.topology.controller_of_actuator
    homes = (of.get(actuator) for vent in vents(figures) for actuator in site.actuators_of.get(vent, ()))
    return dict.fromkeys(home for home in homes if home is not None)


def escapes(figures: Figures) -> Collection[str]:
    """Escape windows."""
    return [opening.id for opening in figures.site.openings.values() if opening.escape]


def fall_hazards(figures: Figures) -> Collection[str]:
    """Openings that the named rule set asks something of, and those it is not known of."""
    falls = figures.falls
    if isinstance(falls, Unknown):
        return list(figures.site.openings)
    return [o for o, fall in falls.items() if fall.demand is not None or fall.unknown is not None]


def over_walkways(figures: Figures) -> Collection[str]:
    """Moved openings that stand over where people pass."""
    return [opening for opening in moved(figures) if figures.site.openings[opening].over_walkway]


def linked_sensors(figures: Figures) -> Collection[str]:
    """Sensors that act on a group."""
    return [sensor for sensor in figures.site.sensors if figures.site.links.get(sensor)]


def rain_sensors(figures: Figures) -> Collection[str]:
    """Sensors that measure rain."""
    return [sensor.id for sensor in figures.site.sensors.values() if sensor.measures == "rain"]


def wind_sensors(figures: Figures) -> Collection[str]:
    """Sensors that measure wind."""
    return [sensor.id for sensor in figures.site.sensors.values() if sensor.measures == "wind"]


def wet_groups(figures: Figures) -> Collection[str]:
    """Groups that do something in wet weather."""
    return [group for group in figures.site.groups if group in figures.site.wet_weather]


def air_rooms(figures: Figures) -> Collection[str]:
    """Rooms whose air comes by their windows."""
    return [room.id for room in figures.site.rooms.values() if not room.mechanical_air]


def batteries(figures: Figures) -> Collection[str]:
    """Supplies that have a battery."""
    return [supply.id for supply in figures.site.supplies.values() if supply.battery]


def fused(figures: Figures) -> Collection[str]:
    """Supplies whose fuse is stated."""
    return [supply.id for supply in figures.site.supplies.values() if supply.fuse_a is not None]


def measured(figures: Figures) -> Collection[str]:
    """Actuators whose stroke or gap was measured."""
    records = figures.site.record.actuators.items()
    return [a for a, record in records if not (record.measured_stroke_mm is None and record.measured_gap_mm is None)]


def stopped_by_hands(figures: Figures) -> Collection[str]:
    """Moved openings that a pressure edge or a light curtain stops."""
    stops = {"pressure-edge", "light-curtain"}
    return [o for o in moved(figures) if stops & set(figures.site.openings[o].protection or ())]


def releases(figures: Figures) -> Collection[str]:
    """Moved escape windows that a hand frees from their actuators."""
    openings = figures.site.openings
    return [o for o in moved(figures) if openings[o].escape and openings[o].hand_release == "hand"]
