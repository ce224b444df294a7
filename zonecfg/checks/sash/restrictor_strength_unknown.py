"""A fall limit rests on an actuator whose hold is not known, or too weak.

Why
    Somebody leaning on the sash pushes against the chain. Where the chain is all that limits the
    opening, it has to hold what a restrictor would.
Wrong
    site: {rules: {falls: NCC-2022-D3D29}}
    openings:
      W-11: {type: bedroom-900, room: guest-1, sill_mm: 900, drop_mm: 3100, limit_by: actuator}
    # and the actuator type gives no hold_n
Right
    State what the actuator holds, as its data sheet says, or fit a restrictor.

        types:
          actuators:
            chain-24-350: {kind: chain, hold_n: 300}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import fall_hazards
from zonecfg.engineering.moments import held_at_edge
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown
from zonecfg.results.words import beside

CHECK = Check(
    "restrictor-strength-unknown",
    "warning",
    source="the rule set named in site.rules.falls; each says where its figures were read",
    needs=("openings", "actuators", "rooms", "site"),
    over="openings",
    scope=fall_hazards,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong; one actuator alone must hold, because people lean on a corner."""
    if isinstance(figures.falls, Unknown):
        yield figures.falls
        return
    for opening, fall in figures.falls.items():
        sash = site.openings[opening]
        if sash.screen == "guard" or sash.limit_by in ("restrictor", "release-by-tool"):
            continue
        if fall.unknown is not None:
            yield fall.unknown
            continue
        if fall.demand is None or not fall.limits_gap or fall.passable:
            continue
        if fall.gap_unknown is not None:
            yield fall.gap_unknown
            continue
        asked = fall.demand.resist_n
        levers, stroke = figures.openings[opening].levers, figures.openings[opening].stroke_mm
        for actuator in site.actuators_of.get(opening, ()):
            holds = site.actuators[actuator].hold_n
            edge = None
            if holds is not None and levers is not None and stroke is not None:
                edge = held_at_edge(holds, levers.swing_mm, stroke, levers.radius_mm)
            if holds is not None and (asked is None or (edge is not None and edge >= asked * (1 - 1e-9))):
                continue
            if (lost := unread(site, "actuators", actuator, "hold_n")) is not None:
                yield lost
                continue
            known = "no hold_n is given for it"
            if holds is not None:
                known = f"it holds {holds:g} N"
            if holds is not None and edge is not None and levers is not None and asked is not None:
                at = "" if levers.radius_mm == levers.swing_mm else f", since it takes hold at {levers.radius_mm:g} mm"
                felt = beside(edge, asked, 0)
                known += f", {felt} N of it at the edge{at}" if felt != f"{holds:g}" else ""
            against = f"; {fall.rule.id} asks for {asked:g} N" if asked is not None else ""
            yield Problem(
                f"openings/{opening}",
                site.at("actuators", actuator, "hold_n"),
                f"only {actuator} keeps {opening} from opening further, and {known}{against}; "
                f"a restrictor would do{fall.caveat('resist_n')}",
                subjects=(f"openings/{opening}", f"actuators/{actuator}"),
                size=None if edge is None or asked is None else Size(edge, asked, "N"),
            )
            break
