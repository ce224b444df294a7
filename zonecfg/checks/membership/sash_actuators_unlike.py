"""The actuators of one sash differ in type or set stroke.

Why
    The one that stops first holds while the other goes on.
Wrong
    actuators:
      A-01a: {type: chain-24-350, opening: W-01, stroke_mm: 300}
      A-01b: {type: chain-24-350, opening: W-01, stroke_mm: 250}
Right
    Use one type on a sash and set the same stroke.

        actuators:
          A-01a: {type: chain-24-350, opening: W-01, stroke_mm: 300}
          A-01b: {type: chain-24-350, opening: W-01, stroke_mm: 300}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import pairs
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "sash-actuators-unlike",
    "error",
    source="common practice",
    needs=("actuators",),
    over="openings",
    scope=pairs,
    touches="safety",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    for opening, ids in site.actuators_of.items():
        if len(ids) < 2:
            continue
        first, *others = (site.actuators[actuator] for actuator in sorted(ids))
        unlike = None
        for other in others:
            if first.type != other.type and None not in (first.type, other.type):
                unlike = other, "type", f"{other.id} is a {other.type}, and {first.id} a {first.type}"
            elif first.stroke_mm != other.stroke_mm and None not in (first.stroke_mm, other.stroke_mm):
                unlike = (
                    other,
                    "stroke_mm",
                    f"{other.id} is set to {other.stroke_mm:g} mm, and {first.id} to {first.stroke_mm:g} mm",
                )
            if unlike:
                break
        if unlike:
            other, field, message = unlike
            yield Problem(
                f"openings/{opening}",
                site.at("actuators", other.id, field),
                f"{message}; both move the sash of {opening}",
                (site.at("actuators", first.id, field),),
                subjects=(f"openings/{opening}", *(f"actuators/{actuator}" for actuator in ids)),
            )
            continue
        for field in ("type", "stroke_mm"):
            if missing := [a.id for a in (first, *others) if getattr(a, field) is None]:
                yield Unknown(f"{field} is not given", tuple(missing))
