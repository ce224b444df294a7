"""An open sash stands into the way of people who pass below.

Why
    A corner of glass at head height is seen too late.
Wrong
    openings:
      W-01: {type: casement, room: office, sill_mm: 900, drop_mm: 150, over_walkway: true}
Right
    Set a shorter stroke, hang the sash inward, or keep people from passing there.

        actuators:
          A-01: {type: chain-350, opening: W-01, stroke_mm: 100}
"""

from collections.abc import Iterator
from math import radians, sin

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import over_walkways
from zonecfg.figures import Figures
from zonecfg.figures.openings import opened_to
from zonecfg.figures.unread import sashless, undeclared, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

HEAD_MM = 2000.0
PROJECTS_MM = 100.0

CHECK = Check(
    "open-sash-over-walkway",
    "warning",
    source="Approved Document K, K5.1, workplaces: from memory, open the document before relying on it",
    needs=("openings", "actuators"),
    over="openings",
    scope=over_walkways,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    yield from undeclared(site, "over_walkway")
    for opening in site.openings.values():
        if lost := unread(site, "openings", opening.id, "over_walkway", "opens", "sill_mm", "drop_mm"):
            yield lost
        elif not opening.over_walkway or opening.opens == "inward" or not site.actuators_of.get(opening.id):
            continue
        elif opening.opens is None or opening.sill_mm is None or opening.drop_mm is None:
            yield Unknown("opens, sill_mm or drop_mm is not given, and people pass below", (opening.id,))
        else:
            yield from _judged(site, figures, opening.id, opening.sill_mm + opening.drop_mm)


def _judged(site: Site, figures: Figures, key: str, height: float) -> Iterator[Problem | Unknown]:
    known = figures.openings[key]
    stroke = known.fire_stroke_mm or known.stroke_mm
    opened = None if stroke is None else opened_to(site.openings[key], stroke)
    if height >= HEAD_MM:
        return
    if opened is None or known.levers is None:
        yield known.unknown or Unknown("how far it opens is not known", (key,))
        return
    projects = known.levers.swing_mm * sin(radians(min(opened.angle_deg, 90.0)))
    if projects > PROJECTS_MM * (1 + 1e-9):
        yield Problem(
            f"openings/{key}",
            site.at("openings", key, "over_walkway"),
            f"{key} stands {projects:.0f} mm into a walkway {height:.0f} mm above it; below {HEAD_MM:g} mm "
            f"{PROJECTS_MM:g} mm is the most (Approved Document K, K5.1, from memory)",
            size=Size(projects, PROJECTS_MM, "mm"),
        )
