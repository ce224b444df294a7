"""A group has an action for weather that no sensor tells it of.

Why
    The action never happens; people rely on it all the same.
Wrong
    wet_weather:
      studio-south: {open_percent: 0, when_dry: stay}
    links: {}
Right
    Link a sensor to the group, or take the action out.

        links:
          R-1: [studio-south]
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import wet_groups
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "wet-action-without-link",
    "warning",
    source="common practice",
    needs=("groups", "sensors", "links", "wet_weather", "strong_wind"),
    over="groups",
    scope=wet_groups,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for section, measures in (("wet_weather", "rain"), ("strong_wind", "wind")):
        for group in getattr(site, section):
            if group not in site.groups or site.sensors_measuring(measures, group):
                continue
            unclear = [
                s for s in site.sensors_of.get(group, ()) if s in site.sensors and site.sensors[s].measures is None
            ]
            if unclear or not site.links_known:
                yield Unknown(f"it is not known which {measures} sensors act on it", (group,))
                continue
            yield Problem(
                f"{section}/{group}",
                site.at(section, group),
                f"{group} has {section}, and no {measures} sensor acts on it: it never happens",
            )
