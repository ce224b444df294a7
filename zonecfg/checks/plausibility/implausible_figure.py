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
from zonecfg.figures.plausible import Slip, slips
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Unknown
from zonecfg.results.pointer import join
from zonecfg.results.words import listed

CHECK = Check(
    "implausible-figure", "warning", source="common practice: ranges that stand beside each field", over="site"
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for slip in slips(site):
        yield Problem(
            slip.about,
            slip.at,
            slip.message,
            severity="error" if slip.impossible else None,
            cures=_cures(site, slip),
        )


def _cures(site: Site, slip: Slip) -> tuple[Cure, ...]:
    """The figure in the unit that its name says, where it stands in this file."""
    if not slip.meant:
        return ()
    text = listed(f"{name} {figure:g}" for name, figure in slip.meant)
    section, _, thing = slip.about.partition("/")
    if section == "types":
        kind, _, name = thing.partition("/")
        own = site.own.get("types", {})
        here = name in (own.get(kind) or {}) if isinstance(own, dict) else False
        base = join("types", kind, name)
    else:
        here, base = True, join(section, thing) if thing else join(section)
    steps = tuple({"op": "replace", "path": f"{base}/{name}", "value": figure} for name, figure in slip.meant)
    return (Cure(f"was {text} meant?", steps if here else None),)
