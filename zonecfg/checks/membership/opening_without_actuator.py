"""No actuator moves this opening.

Why
    It may be meant to be opened by hand; then it belongs to its room's other_openings_m2.
Wrong
    openings:
      W-09: {type: bedroom-900, room: guest-1}     # and no actuator names it
Right
    Give it an actuator, or count its area with the room's other openings.

        rooms:
          guest-1: {floor_area_m2: 16, other_openings_m2: 0.8}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "opening-without-actuator", "note", source="common practice", needs=("actuators", "openings"), over="openings"
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    lost = [a.id for a in site.actuators.values() if a.opening is None]
    bare = [opening for opening in site.openings if opening not in site.actuators_of]
    if bare and lost:
        yield Unknown(f"it is not known which opening {listed(lost)} moves", tuple(bare))
        return
    for opening in bare:
        yield Problem(f"openings/{opening}", site.at("openings", opening), f"no actuator moves {opening}")
