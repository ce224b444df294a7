"""Groups depend on one rain sensor.

Why
    If it fails, nothing closes them. Worth knowing when the sensor is cleaned or fails its test.
Wrong
    links:
      R-1: [studio-south]      # and no other rain sensor acts on it
Right
    Link a second rain sensor where rain would do harm, or accept it.

        links:
          R-1: [studio-south]
          R-2: [studio-south]
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import rain_sensors
from zonecfg.figures import Figures
from zonecfg.figures.exposure import shut_by
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "single-sensor",
    "note",
    source="common practice",
    needs=("sensors", "links", "groups", "wet_weather"),
    over="sensors",
    scope=rain_sensors,
)


def _stays_open(site: Site, group: str) -> bool:
    """Whether its wet action is no rain closing, so that no sensor closes it."""
    percent = site.wet_weather[group].open_percent
    return any(shut_by(site.openings[o], percent) is False for o in site.openings_of_group[group])


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if not site.links_known:
        yield Unknown("the groups that a sensor acts on could not be read", site.links_unread)
        return
    unclear = dict.fromkeys(s.id for s in site.sensors.values() if s.measures is None)
    if unclear:
        yield Unknown("it is not known what the sensor measures", tuple(unclear))
    for sensor in site.sensors.values():
        if sensor.measures != "rain":
            continue
        alone = [
            group
            for group in dict.fromkeys(site.links.get(sensor.id, ()))
            if group in site.groups
            and group in site.wet_weather
            and not _stays_open(site, group)
            and site.sensors_measuring("rain", group) == [sensor.id]
            and unclear.keys().isdisjoint(site.sensors_of[group])
        ]
        if alone:
            yield Problem(
                f"sensors/{sensor.id}",
                site.at("sensors", sensor.id),
                f"if {sensor.id} fails, nothing closes {listed(alone)} in the rain",
                subjects=(f"sensors/{sensor.id}", *(f"groups/{group}" for group in alone)),
            )
