"""What a change touches first: safety, weather, air, electrical, operation, or the record only."""

from collections.abc import Iterable

from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.change import Consequence


def of_field(section: str, *path: str) -> Consequence:
    """Class a change of one field of a thing or type, or of the whole site: as the model declares it."""
    node = grammar().of(section, *path)
    return "record" if node is None else node.touches


def of_thing(section: str, key: str, sites: tuple[Site, Site]) -> Consequence:
    """Class the coming or going of a whole thing."""
    base = section.removeprefix("types.")
    if base == "groups":
        return of_groups([key], sites)
    if section == "actuators":
        return of_membership((key, key), sites)
    node = grammar().of(base)
    return "record" if node is None else node.touches


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
