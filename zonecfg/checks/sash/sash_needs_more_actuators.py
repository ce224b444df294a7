"""The sash is longer along its hinge than its actuators serve.

Why
    Between two actuators, and beyond the last one, the sash bends: it leaks at the corners,
    and the glass carries what the frame should.
Wrong
    openings:
      W-01: {type: clerestory, room: studio, width_mm: 1200, height_mm: 700}
    actuators:
      A-01: {type: chain-24-350, opening: W-01}      # along_hinge_max_mm: 1000
Right
    Fit as many actuators, side by side and in step, as the length takes.

        actuators:
          A-01a: {type: chain-24-350, opening: W-01}
          A-01b: {type: chain-24-350, opening: W-01}
"""

from collections.abc import Iterator
from math import ceil

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.words import counted

USUAL_MM = 900.0

CHECK = Check(
    "sash-needs-more-actuators",
    "warning",
    source="along_hinge_max_mm of the actuator type; common practice, about 900 mm each, where none is given",
    needs=("openings", "actuators"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    for opening, sash in figures.openings.items():
        if not sash.actuators:
            continue
        if sash.levers is None:
            if sash.shape_unknown is not None:
                yield sash.shape_unknown
            continue
        given = [site.actuators[actuator].along_hinge_max_mm for actuator in sash.actuators]
        served = [USUAL_MM if most is None else most for most in given]
        each = min(served)
        count, along = len(given), sash.levers.along_mm
        if along <= count * each * (1 + 1e-9) or site.sashless:
            continue
        lost = [u for a in sash.actuators if (u := unread(site, "actuators", a, "along_hinge_max_mm")) is not None]
        if lost:
            yield from lost
        else:
            usual = given[served.index(each)] is None
            whose = f"{each:g} mm each" + (" by common practice: the type does not say" if usual else "")
            field = "height_mm" if site.openings[opening].hinge == "side-hung" else "width_mm"
            yield Problem(
                f"openings/{opening}",
                site.at("openings", opening, field),
                f"the sash of {opening} is {along:g} mm along its hinge, and has {counted(count, 'actuator')} "
                f"({whose}, {count * each:g} mm in all); {ceil(along / each - 1e-9)} would serve it",
                size=Size(along, count * each, "mm"),
            )
