"""A sash opens so far that somebody could fall through.

Why
    Where the floor is high and the sill low, the named rule lets nothing of the size of a small
    child's head pass. The stroke that is set is what keeps it so, or does not.
Wrong
    site: {rules: {falls: NCC-2022-D3D29}}
    openings:
      W-11: {type: bedroom-900, room: guest-1, sill_mm: 800, drop_mm: 3100}
    actuators:
      A-11: {type: chain-24-350, opening: W-11, stroke_mm: 300}
Right
    Set a shorter stroke, or fit a guard screen.

        actuators:
          A-11: {type: chain-24-350, opening: W-11, stroke_mm: 120}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import fall_hazards
from zonecfg.figures import Figures
from zonecfg.figures.falls import FallFigures
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Size, Unknown
from zonecfg.results.pointer import join

CHECK = Check(
    "opening-over-fall-limit",
    "error",
    source="the rule set named in site.rules.falls; each says where its figures were read",
    needs=("openings", "actuators", "rooms", "site"),
    over="openings",
    scope=fall_hazards,
)


_RECORDED = {"measured gap": "measured_gap_mm", "measured stroke": "measured_stroke_mm"}


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if isinstance(figures.falls, Unknown):
        yield figures.falls
        return
    for opening, fall in figures.falls.items():
        if site.openings[opening].screen == "guard":
            continue
        if fall.unknown is not None:
            yield fall.unknown
        elif not fall.limits_gap:
            continue
        elif fall.passable and fall.gap_of is not None:
            at = site.at("actuators", fall.gap_of, "stroke_mm")
            if fall.gap_from != "set":
                at = join("record", "actuators", fall.gap_of, _RECORDED[fall.gap_from])
            yield Problem(
                f"openings/{opening}",
                at,
                _message(site, opening, fall),
                size=Size(fall.gap_mm, fall.demand.sphere_mm, "mm")
                if fall.demand and fall.demand.sphere_mm and fall.gap_mm
                else None,
                cures=(Cure(_cure(fall)),),
            )
        elif fall.gap_unknown is not None:
            yield fall.gap_unknown


def _message(site: Site, opening: str, fall: FallFigures) -> str:
    demand, sash = fall.demand, site.openings[opening]
    assert demand is not None  # noqa: S101  (a rule that asks nothing is passed over)
    how = {
        "set": "opens",
        "measured gap": "was measured to open",
        "measured stroke": "opens, as its stroke was measured,",
    }
    heights = [f"{mm:g} mm {word}" for mm, word in ((sash.sill_mm, "sill"), (sash.drop_mm, "drop")) if mm is not None]
    device = f", or {demand.asks.or_device}" if demand.asks.or_device else ""
    return (
        f"{opening} {how[fall.gap_from]} {fall.gap_mm:.4g} mm, and "
        f"{fall.rule.id} lets no {demand.sphere_mm:g} mm sphere pass here "
        f"({', '.join(heights)}); {_cure(fall)}{device}{fall.caveat('sphere_mm')}"
    )


def _cure(fall: FallFigures) -> str:
    if fall.advised_stroke_mm:
        return f"a stroke of {fall.advised_stroke_mm} mm or less stops it and leaves 5 mm"
    return "a guard screen would"
