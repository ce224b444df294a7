"""The sill, or the barrier before it, is lower than the fall rule asks.

Why
    People lean, sit and climb on a low sill. Some rules ask for a barrier of a height always,
    others where what limits the opening can be overridden: released with a tool, the sash freed
    from its actuators by hand or tool, or the stroke changed at a panel that is not locked. What
    the plan does not state of these is not known, and said. Openings in a guarding are not judged.
Wrong
    site: {rules: {falls: ADK-2013}}
    openings:
      W-21: {type: casement, room: flat-living, sill_mm: 500, drop_mm: 6700}
Right
    Put up a barrier of the height asked, or raise the sill.

        openings:
          W-21: {type: casement, room: flat-living, sill_mm: 500, barrier_mm: 1000, drop_mm: 6700}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import fall_hazards
from zonecfg.figures import Figures
from zonecfg.figures.overriding import overriding
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "barrier-too-low",
    "error",
    source="the rule set named in site.rules.falls; each says where its figures were read",
    needs=("openings", "actuators", "rooms", "controllers", "site"),
    over="openings",
    scope=fall_hazards,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if isinstance(figures.falls, Unknown):
        yield figures.falls
        return
    for opening, fall in figures.falls.items():
        if fall.unknown is not None:
            yield fall.unknown
            continue
        sash = site.openings[opening]
        if fall.demand is None or sash.screen == "guard":
            continue
        asked = fall.demand.barrier_mm(overridable=True)
        heights = [height for height in (sash.sill_mm, sash.barrier_mm) if height is not None]
        if asked is None:
            continue
        if heights and max(heights) >= asked * (1 - 1e-9):
            if sash.sill_mm is None or sash.sill_mm < asked * (1 - 1e-9):
                yield from _guarding(fall.demand.asks.guarding_sphere_mm, opening)
            continue
        overridden: str | Unknown | None = None
        if fall.demand.asks.barrier_mm is None:
            overridden = overriding(site, figures, opening)
            if isinstance(overridden, Unknown):
                yield overridden
            if not isinstance(overridden, str):
                continue
        lost = unread(site, "openings", opening, "sill_mm", "barrier_mm")
        if sash.sill_mm is None or lost is not None:
            yield lost or Unknown("sill_mm is not given, and no barrier_mm is enough", (opening,))
            continue
        always = fall.demand.asks.barrier_mm is not None
        field = "sill_mm" if sash.barrier_mm is None else "barrier_mm"
        what = "sill" if max(heights) == sash.sill_mm else "barrier"
        yield Problem(
            f"openings/{opening}",
            site.at("openings", opening, field),
            f"{opening} has a {what} of {max(heights):g} mm; {fall.rule.id} asks for {asked:g} mm"
            f"{'' if always else f', because {overridden}'}; a barrier of that height would do"
            f"{fall.caveat('barrier_mm' if always else 'barrier_if_overridable_mm')}",
            size=Size(max(heights), asked, "mm"),
        )


def _guarding(sphere_mm: float | None, opening: str) -> Iterator[Unknown]:
    if sphere_mm is not None:
        yield Unknown(
            f"no field says how wide openings in the guarding are; {sphere_mm:g} mm must not pass", (opening,)
        )
