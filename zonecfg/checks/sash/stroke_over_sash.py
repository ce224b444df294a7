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
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.openings import OpeningFigures, opened_to
from zonecfg.figures.unread import sashless
from zonecfg.model.opening import Opening
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.words import beside

CHECK = Check(
    "stroke-over-sash",
    "error",
    source="geometry: the stroke is a chord",
    needs=("openings", "actuators"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong; of the strokes that are set and asked the first that opens too far."""
    yield from sashless(site)
    for key, sash in figures.openings.items():
        opening = site.openings[key]
        if not sash.actuators and not opening.smoke_vent:
            continue
        if sash.levers is None:
            if sash.unknown is not None:
                yield sash.unknown
            continue
        if sash.stroke_mm is None and sash.actuators and sash.unknown is not None:
            yield sash.unknown
        for field, stroke in _strokes(site, opening, sash):
            opened, reach = opened_to(opening, stroke), sash.levers.radius_mm
            if opened is not None and opened.angle_deg <= 90 + 1e-9:
                continue
            if opened is None:
                what = f"no angle fits it, {2 * reach:g} mm being as far as the sash can turn"
            else:
                what = f"opens {key} to {beside(opened.angle_deg, 90, 0)}°"
            longest = max(sash.actuators, key=lambda a: site.actuators[a].stroke_mm or 0, default=None)
            at = site.at("openings", key, field) if field else site.at("actuators", longest or "", "stroke_mm")
            yield Problem(
                f"openings/{key}",
                at,
                f"{_NAMES[field]} of {stroke:g} mm, {reach:g} mm from the hinge: {what}; "
                f"{floor(sqrt(2) * reach)} mm is a right angle",
                size=None if opened is None else Size(opened.angle_deg, 90, "°"),
            )
            break


_NAMES = {"": "a stroke", "fire_stroke_mm": "a fire stroke", "smoke_stroke_mm": "a smoke stroke"}


def _strokes(site: Site, opening: Opening, sash: OpeningFigures) -> Iterator[tuple[str, float]]:
    if sash.actuators and sash.stroke_mm is not None:
        yield "", sash.stroke_mm
    if opening.smoke_vent:
        for field in ("fire_stroke_mm", "smoke_stroke_mm"):
            if (asked := getattr(opening, field)) is not None:
                yield field, asked
