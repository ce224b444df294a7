"""A sensor acts on no group.

Why
    It sees the rain, and nothing closes.
Wrong
    sensors:
      R-1: {type: rain-plate}
    links: {}
Right
    Link it to the groups it watches over, or take it out.

        links:
          R-1: [studio-south]
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check("sensor-unlinked", "warning", source="common practice", needs=("sensors",), over="sensors")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if not site.links_known:
        yield Unknown("links could not be read", tuple(s for s in site.sensors if not site.links.get(s)))
        return
    for sensor in site.sensors:
        if not site.links.get(sensor):
            yield Problem(f"sensors/{sensor}", site.at("sensors", sensor), f"{sensor} acts on no group")
