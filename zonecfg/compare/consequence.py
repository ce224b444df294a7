"""What a change touches first: safety, weather, air, electrical, operation, or the record only."""

from collections.abc import Iterable

from zonecfg.model.site import Site
from zonecfg.results.change import Consequence

_SAFETY = frozenset(
    "hinge opens width_mm height_mm sash_mass_kg glass_mm pitch_deg actuator_at_mm sill_mm drop_mm stays friction_n "
    "pivot_brackets screen barrier_mm limit_by protection lock smoke_vent smoke_stroke_mm escape hand_release "
    "seal_n_per_m stroke_mm kind stroke_max_mm thrust_n push_n pull_n hold_n along_hinge_max_mm hinge_to_edge_min_mm "
    "fire_command_outranks wind_m_s rules.falls rules.escape use".split()
)
_WEATHER = frozenset("facade_deg sheltered measures wind_above_m_s if_lost responds_s shares_sensors".split())
_AIR = frozenset("floor_area_m2 other_openings_m2 mechanical_air outdoor_c indoor_c rules.ventilation storey".split())
_ELECTRICAL = frozenset(
    "voltage_v voltage_min_v running_a peak_a idle_a bus_unit_load sync duty_percent bus_end_resistor output_v "
    "output_min_v output_a fuse_a battery connects".split()
)
_RECORD = frozenset("name reference revision date serial by because".split())
_BY_SECTION: dict[str, Consequence] = {
    "links": "weather",
    "wet_weather": "weather",
    "strong_wind": "weather",
    "sensors": "weather",
    "cables": "electrical",
    "supplies": "electrical",
    "junctions": "electrical",
    "terminators": "electrical",
    "rooms": "air",
    "openings": "safety",
    "actuators": "operation",
    "controllers": "operation",
    "groups": "operation",
    "site": "record",
}


def of_field(section: str, field: str) -> Consequence:
    """Class a change of one field of a thing or type."""
    if field.startswith("x-"):
        return "record"
    base = section.removeprefix("types.")
    first, _, _ = field.partition(".")
    for names, consequence in (
        (_SAFETY, "safety"),
        (_WEATHER, "weather"),
        (_AIR, "air"),
        (_ELECTRICAL, "electrical"),
        (_RECORD, "record"),
    ):
        if field in names or first in names:
            return consequence  # type: ignore[return-value]
    if first == "bus":
        return "electrical"
    if base == "openings" and first == "room":
        return "air"
    return _BY_SECTION.get(base, "record") if base != "sensors" else "operation"


def of_thing(section: str, key: str, sites: tuple[Site, Site]) -> Consequence:
    """Class the coming or going of a whole thing."""
    base = section.removeprefix("types.")
    if key.startswith("x-"):
        return "record"
    if base == "groups":
        return of_groups([key], sites)
    if section == "actuators":
        return of_membership((key, key), sites)
    return _BY_SECTION.get(base, "record")


def of_membership(actuators: tuple[str, str], sites: tuple[Site, Site]) -> Consequence:
    """Class a change of what moves an actuator: safety where it pulls a sash apart or concerns a vent or a way out.

    ``actuators`` is its id in each of the sites.
    """
    groups: list[str] = []
    for site, actuator in zip(sites, actuators, strict=True):
        groups += site.groups_of.get(actuator, ())
        fitted = site.actuators.get(actuator)
        opening = site.openings.get(fitted.opening or "") if fitted else None
        if opening is None:
            continue
        if opening.smoke_vent or opening.escape:
            return "safety"
        homes = {tuple(site.groups_of.get(a, ())) for a in site.actuators_of[opening.id]}
        if len(homes) > 1:
            return "safety"
    return of_groups(groups, sites)


def of_groups(groups: Iterable[str], sites: tuple[Site, Site]) -> Consequence:
    """Class a change of groups: weather where a sensor or an action for weather stands behind one of them."""
    for group in groups:
        for site in sites:
            if group in site.wet_weather or group in site.strong_wind or site.sensors_of.get(group):
                return "weather"
    return "operation"
