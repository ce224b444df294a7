"""A sensor acts on a group that has no action for its weather.

Why
    The link looks like rain closing, but nothing is said that the group should do.
Wrong
    links:
      R-1: [studio-south]
    wet_weather: {}
Right
    Say what the group does while the sensor is wet (wet_weather) or the wind is strong
    (strong_wind).

        wet_weather:
          studio-south: {open_percent: 0, when_dry: stay}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import linked_sensors
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "link-without-wet-action",
    "error",
    source="common practice",
    needs=("links", "sensors", "groups"),
    over="sensors",
    scope=linked_sensors,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.links_unread:
        yield Unknown("the groups that a sensor acts on could not be read", site.links_unread)
    for sensor, groups in site.links.items():
        if sensor not in site.sensors:
            continue
        measures = site.sensors[sensor].measures
        if measures is None:
            yield Unknown("it is not known what the sensor measures", (sensor,))
            continue
        section = "wet_weather" if measures == "rain" else "strong_wind"
        if section in site.unknown:
            yield Unknown(f"{section} could not be read", (sensor,))
            continue
        for index, group in enumerate(groups):
            if group in site.groups and group not in getattr(site, section) and group not in groups[:index]:
                yield Problem(
                    f"links/{sensor}/{group}",
                    join("links", sensor, index),
                    f"{sensor} acts on {group}, which has no {section}: "
                    f"it does nothing when {'it rains' if measures == 'rain' else 'the wind is strong'}",
                    subjects=(f"sensors/{sensor}", f"groups/{group}"),
                    cures=(_cure(site, section, group),),
                )


def _cure(site: Site, section: str, group: str) -> Cure:
    """Close it: rain needs a word for how far, strong wind always closes."""
    value: dict[str, object] = {"when_calm": "stay"}
    if section == "wet_weather":
        value = {"open_percent": 0, "when_dry": "stay"}
    there = section in site.own
    step = {"op": "add", "path": join(section, group) if there else join(section), "value": value}
    if not there:
        step["value"] = {group: value}
    return Cure(f"close {group} then, and let it stay closed", (step,))
