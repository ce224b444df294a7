"""An escape window gives too little room, stands too high, or cannot be opened by hand.

Why
    In a fire nobody waits for an actuator, and there may be no power. Whether a window counts as
    a way out is for the fire strategy; this only holds it against the rule the plan names.
Wrong
    site: {rules: {escape: ADB-ESCAPE}}
    openings:
      W-21: {type: casement, room: bedroom, escape: true, hand_release: none}
Right
    Choose a sash of the size asked, low enough, that a hand frees from its actuators.

        openings:
          W-21: {type: casement, room: bedroom, escape: true, hand_release: hand}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import escapes
from zonecfg.figures import Figures
from zonecfg.figures.rulings import caveat, rule_named
from zonecfg.figures.unread import unread
from zonecfg.model.opening import Opening
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.rules import EscapeRule

CHECK = Check(
    "escape-window-restricted",
    "warning",
    source="the rule set named in site.rules.escape; it says where its figures were read",
    needs=("openings", "rooms", "site"),
    over="openings",
    scope=escapes,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    rule = rule_named(site, "escape", EscapeRule)
    for opening in site.openings.values():
        lost = unread(site, "openings", opening.id, "escape", "hand_release", "limit_by")
        if lost is not None:
            yield lost
        if not opening.escape or lost is not None:
            continue
        faults: list[tuple[str, str]] = []
        if opening.hand_release is None:
            yield Unknown("hand_release is not given", (opening.id,))
        elif opening.hand_release != "hand":
            what = "only a tool" if opening.hand_release == "tool" else "nothing"
            faults.append(("hand_release", f"{what} frees it from its actuators, and it must open by hand"))
        if opening.lock == "motor":
            faults.append(("lock", "a motor lock holds it, and it must open by hand without mains"))
        said = ""
        if isinstance(rule, Unknown):
            yield Unknown(rule.because, (opening.id,))
        else:
            room = site.rooms.get(opening.room or "")
            for result in _against(rule, figures, opening):
                if isinstance(result, Unknown):
                    yield result
                else:
                    faults.append(result)
                    said = caveat(rule, room.use if room else None, secondary=bool(rule.secondary))
        if faults:
            yield Problem(
                f"openings/{opening.id}",
                site.at("openings", opening.id, faults[0][0]),
                f"{opening.id} is an escape window: {'; '.join(text for _, text in faults)}{said}",
            )


def _against(rule: EscapeRule, figures: Figures, opening: Opening) -> Iterator[tuple[str, str] | Unknown]:
    """Hold size and height against the rule: the whole sash where a hand frees it, else what the stroke opens."""
    demand, sash = rule.asks(None), figures.openings[opening.id]
    limits = demand.limits
    width, height, area = opening.width_mm, opening.height_mm, sash.sash_area_m2
    if opening.hinge == "centre-pivot" and sash.levers is not None and area is not None:
        width, height, area = sash.levers.along_mm, sash.levers.swing_mm, area / 2  # the sash stands across the middle
    restricted = opening.limit_by in ("restrictor", "release-by-tool") or opening.hand_release != "hand"
    if restricted and sash.opened is not None and sash.levers is not None:
        half = 0.5 if opening.hinge == "centre-pivot" else 1.0
        width, height, area = sash.levers.along_mm, sash.opened.gap_mm, sash.opened.free_m2 * half
    elif restricted or width is None or height is None:
        yield sash.unknown or Unknown("width_mm or height_mm of the sash is not given", (opening.id,))
        width = height = area = None
    if opening.sill_mm is None:
        yield Unknown("sill_mm is not given", (opening.id,))
    unmet = demand.unmet(clear_area_m2=area, clear_width_mm=width, clear_height_mm=height, bottom_mm=opening.sill_mm)
    if "clear_area_at_least_m2" in unmet:
        yield "width_mm", f"it gives {area:.3g} m² clear, {rule.id} asks for {limits.clear_area_at_least_m2:g} m²"
    if "each_way_at_least_mm" in unmet:
        yield (
            "width_mm",
            f"it is clear {width:g} by {height:.4g} mm, {limits.each_way_at_least_mm:g} mm each way is asked",
        )
    if "bottom_at_most_mm" in unmet:
        yield (
            "sill_mm",
            f"its bottom is {opening.sill_mm:g} mm above the floor, {limits.bottom_at_most_mm:g} mm at most",
        )
