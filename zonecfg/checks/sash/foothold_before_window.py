"""Something to climb on stands before a window that people could fall from.

Why
    A barrier of the height asked keeps nobody back who steps up on a ledge, a pipe or a rail.
Wrong
    site: {rules: {falls: NCC-2022-D3D29}}
    openings:
      W-11: {type: office-900, room: office, sill_mm: 900, drop_mm: 6300, foothold_mm: 450}
Right
    Take it away or cover it, and say that nothing is left to climb on.

        openings:
          W-11: {type: office-900, room: office, sill_mm: 900, drop_mm: 6300, foothold_mm: 0}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import fall_hazards
from zonecfg.figures import Figures
from zonecfg.figures.overriding import overriding
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "foothold-before-window",
    "warning",
    source="the rule set named in site.rules.falls; each says where its figures were read",
    needs=("openings", "actuators", "rooms", "controllers", "site"),
    over="openings",
    scope=fall_hazards,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    if isinstance(figures.falls, Unknown):
        yield figures.falls
        return
    for key, fall in figures.falls.items():
        opening = site.openings[key]
        if fall.unknown is not None:
            yield fall.unknown
        if fall.demand is None or opening.screen == "guard":
            continue
        asks = fall.demand.asks
        low, high = asks.no_climb_from_mm, asks.no_climb_to_mm
        if low is None or high is None:
            continue
        if asks.barrier_mm is None:  # asked only where what limits the opening can be overridden
            overridden = overriding(site, figures, key)
            if not isinstance(overridden, str):
                if isinstance(overridden, Unknown):
                    yield overridden
                continue
        if lost := unread(site, "openings", key, "foothold_mm"):
            yield lost
        elif opening.foothold_mm is None:
            yield Unknown(f"foothold_mm is not given, and {fall.rule.id} lets nothing be climbed on here", (key,))
        elif low <= opening.foothold_mm <= high:
            yield Problem(
                f"openings/{key}",
                site.at("openings", key, "foothold_mm"),
                f"something {opening.foothold_mm:g} mm above the floor can be climbed on before {key}; {fall.rule.id} "
                f"lets nothing be climbed on from {low:g} to {high:g} mm{fall.caveat('no_climb_from_mm')}",
            )
