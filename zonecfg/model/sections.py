"""The sections of a plan in their order, and what stands in each."""

from typing import NamedTuple

from zonecfg.model.behaviour import Group, StrongWind, WetWeather
from zonecfg.model.building import Opening, Room
from zonecfg.model.equipment import Actuator, Cable, Controller, Junction, Sensor, Supply
from zonecfg.model.fields import Part

SITE_FORMAT = "zonecfg-site/1"
CATALOGUE_FORMAT = "zonecfg-catalogue/1"
STATES = ("as-designed", "as-commissioned", "saved")


class Section(NamedTuple):
    """A section whose things are keyed by id."""

    name: str
    part: type[Part]
    doc: str


THINGS: dict[str, Section] = {
    section.name: section
    for section in (
        Section("rooms", Room, "Rooms by id."),
        Section("openings", Opening, "Openings, each a sash in a frame, by id."),
        Section("controllers", Controller, "Controllers by id."),
        Section("supplies", Supply, "Power supplies by id."),
        Section("actuators", Actuator, "Actuators by id."),
        Section("groups", Group, "Groups of actuators that move together, by id."),
        Section("sensors", Sensor, "Rain and wind sensors by id."),
        Section("wet_weather", WetWeather, "What each group does while a linked rain sensor is wet, by group."),
        Section("strong_wind", StrongWind, "What each group does after strong wind, by group."),
        Section("junctions", Junction, "Boxes where cables meet, by id."),
        Section("cables", Cable, "Cables by id."),
    )
}

TYPED = ("openings", "actuators", "controllers", "sensors", "supplies", "cables")
"""Sections whose things may take their fields from a type."""

NODES = ("controllers", "supplies", "actuators", "sensors", "junctions")
"""Sections whose ids cables name; ids are unique across all of them."""

SETTINGS = ("groups", "links", "wet_weather", "strong_wind")
"""What a controller stores and a saved copy can put back; all else is physical."""

ORDER = (
    "format", "state", "site", "catalogue", "types", "rooms", "openings", "controllers", "supplies", "actuators",
    "groups", "sensors", "links", "wet_weather", "strong_wind", "junctions", "cables", "terminators", "record", "saved",
    "accepted",
)  # fmt: skip
"""The canonical order of sections."""
