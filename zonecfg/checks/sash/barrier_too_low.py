"""The sill, or the barrier before it, is lower than the fall rule asks.

Why
    People lean, sit and climb on a low sill. Some rules ask for a barrier of a height always,
    others where what limits the opening can be overridden: released with a tool, the sash freed
    from its actuators by hand or tool, or the stroke changed at a panel that is not locked. Only
    what the plan states counts as such; a set stroke by itself is no limit that can be overridden.
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
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "barrier-too-low",
    "error",
    source="the rule set named in site.rules.falls; each says where its figures were read",
    needs=("openings", "actuators", "rooms", "controllers", "site"),
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
        if fall.demand is None:
            continue
        overridden = _overridden(site, figures, opening)
        asked = fall.demand.barrier_mm(overridable=overridden is not None)
        if asked is None:
            continue
        sash = site.openings[opening]
        heights = [height for height in (sash.sill_mm, sash.barrier_mm) if height is not None]
        if heights and max(heights) >= asked * (1 - 1e-9):
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
        )


def _overridden(site: Site, figures: Figures, opening: str) -> str | None:
    """Say how what limits the opening can be overridden; None where the plan states no such way."""
    sash = site.openings[opening]
    if sash.limit_by == "release-by-tool":
        return "its limit can be released with a tool"
    if sash.limit_by == "restrictor":
        return None
    if sash.hand_release in ("hand", "tool"):
        how = "by hand" if sash.hand_release == "hand" else "with a tool"
        return f"the sash can be freed from its actuators {how}"
    for actuator in site.actuators_of.get(opening, ()):
        controller = site.controllers.get(figures.topology.controller_of_actuator.get(actuator, ""))
        if controller is not None and controller.panel_locked is False:
            return f"the panel of {controller.id} is not locked, and the stroke can be changed there"
    return None
