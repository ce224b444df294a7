"""A stroke opens the sash past 90°, or further than it can turn.

Why
    Past a right angle the actuator pulls the sash round instead of out, and its lever shrinks
    to nothing; a stroke over twice the distance to the hinge fits no position at all.
Wrong
    openings:
      W-01: {type: fanlight, room: hall, height_mm: 400}
    actuators:
      A-01: {type: chain-24-600, opening: W-01, stroke_mm: 600}      # 565 mm is 90°
Right
    Set a stroke that stays below a right angle.

        actuators:
          A-01: {type: chain-24-600, opening: W-01, stroke_mm: 350}
"""

from collections.abc import Iterator
from math import floor, sqrt

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import beside

CHECK = Check("stroke-over-sash", "warning", source="geometry: the stroke is a chord", needs=("openings", "actuators"))


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    for opening, sash in figures.openings.items():
        if not sash.actuators:
            continue
        if sash.levers is None or sash.stroke_mm is None:
            if sash.unknown is not None:
                yield sash.unknown
            continue
        if sash.opened is not None and sash.opened.angle_deg <= 90 + 1e-9:
            continue
        reach = sash.levers.radius_mm
        if sash.opened is None:
            what = f"no angle fits it, {2 * reach:g} mm being as far as the sash can turn"
        else:
            what = f"opens {opening} to {beside(sash.opened.angle_deg, 90, 0)}°"
        longest = max(sash.actuators, key=lambda a: site.actuators[a].stroke_mm or 0)
        yield Problem(
            f"openings/{opening}",
            site.at("actuators", longest, "stroke_mm"),
            f"a stroke of {sash.stroke_mm:g} mm, {reach:g} mm from the hinge: {what}; "
            f"{floor(sqrt(2) * reach)} mm is a right angle",
        )
