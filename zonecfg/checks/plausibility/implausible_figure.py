"""A figure is far from what the trade has, and looks like a slip.

Why
    Metres for millimetres, kilonewtons for newtons, grams for kilograms: every other check then
    computes with a window of a millimetre, and most of them pass.
Wrong
    openings:
      W-01: {type: casement, room: hall, width_mm: 0.9, height_mm: 1.2}
Right
    Write the figure in the unit that its name says; accept the finding where it is meant.

        openings:
          W-01: {type: casement, room: hall, width_mm: 900, height_mm: 1200}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.plausible import slips
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check("implausible-figure", "warning", source="common practice: ranges that stand beside each field")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for slip in slips(site):
        yield Problem(slip.about, slip.at, slip.message, (), "error" if slip.impossible else None)
