"""A wind sensor lets windows stand open in more wind than their actuators are computed for.

Why
    Forces are computed for site.wind_m_s. A sensor that closes its groups only beyond that leaves
    actuators to pull against a wind that nobody looked at.
Wrong
    site: {wind_m_s: 10}
    types:
      sensors:
        cups: {measures: wind, wind_above_m_s: 15}
Right
    Set the sensor to the wind of the site or less, or compute the forces for the sensor's.

        site: {wind_m_s: 15}
"""

from collections.abc import Iterator

from msgspec import structs

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import wind_sensors
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "wind-limit-over-force",
    "warning",
    source="the two wind speeds of the plan; wind presses with ½·1.225·v²",
    needs=("sensors", "links", "groups", "openings", "actuators", "site"),
    over="sensors",
    scope=wind_sensors,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    if site.links_unread:
        yield Unknown("the groups that a sensor acts on could not be read", site.links_unread)
    limit = site.info.wind_m_s
    for key, groups in site.links.items():
        sensor = site.sensors.get(key)
        if lost := unread(site, "sensors", key, "measures", "wind_above_m_s"):
            yield lost
            continue
        if sensor is None or sensor.measures != "wind" or not any(group in site.groups for group in groups):
            continue
        if sensor.wind_above_m_s is None:
            yield Unknown("wind_above_m_s of the sensor is not given", (key,))
        elif limit is None:
            yield Unknown("site.wind_m_s is not given")
        elif sensor.wind_above_m_s > limit * (1 + 1e-9):
            yield Problem(
                f"sensors/{key}",
                site.at("sensors", key, "wind_above_m_s"),
                f"{key} closes its groups in more than {sensor.wind_above_m_s:g} m/s, and forces are computed for "
                f"{limit:g} m/s{_force(site, key, sensor.wind_above_m_s)}",
                (join("site", "wind_m_s"),),
                size=Size(sensor.wind_above_m_s, limit, "m/s"),
            )


def _force(site: Site, sensor: str, wind: float) -> str:
    """Say the largest force that its windows take in the sensor's wind."""
    then = Figures(structs.replace(site, info=structs.replace(site.info, wind_m_s=wind)))
    opened = dict.fromkeys(o for group in site.links[sensor] for o in site.openings_of_group.get(group, ()))
    known = [(n, o) for o in opened if (n := then.openings[o].each_n(then.openings[o].forces)) is not None]
    if not known:
        return ""
    force, opening = max(known)
    return f"; at the sensor's {opening} takes up to {force:.0f} N of each actuator"
