"""What the named fall rule asks of every opening, and how far each one opens against it."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Literal

from msgspec import Struct

from zonecfg.engineering.restriction import largest_stroke_below_gap
from zonecfg.figures.openings import OpeningFigures, opened_to
from zonecfg.figures.rulings import TRIGGERS, caveat, rule_named
from zonecfg.figures.unread import unread
from zonecfg.model.opening import Opening
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown
from zonecfg.rules import FallDemand, FallRule
from zonecfg.rules import NotJudged as Unsettled

TOLERANCE_MM = 5.0
"""What a stroke that is proposed leaves to a sphere [mm]; common practice."""


class FallFigures(Struct, frozen=True, kw_only=True, gc=False):
    """One opening against the fall rule.

    ``demand`` is None where the rule asks nothing, and where ``unknown`` says why that is not known. The gap is the
    largest of what is set and what was measured; ``gap_of`` is the actuator it rests on.
    """

    rule: FallRule
    use: str | None
    demand: FallDemand | None
    unknown: Unknown | None = None
    gap_mm: float | None = None
    gap_of: str | None = None
    gap_from: "GapFrom" = "set"
    """What the gap rests on: the set stroke, the measured gap or the measured stroke, whichever opens furthest."""
    gap_unknown: Unknown | None = None
    largest_stroke_mm: int | None = None
    """The largest stroke that the sphere does not pass, to the millimetre."""
    advised_stroke_mm: int | None = None
    """The largest stroke that leaves 5 mm to the sphere, for what mounting, wear and a meter may take."""

    @property
    def limits_gap(self) -> bool:
        """Whether the rule asks that a sphere must not pass."""
        return self.demand is not None and self.demand.asks.sphere_mm is not None

    @property
    def passable(self) -> bool:
        """Whether the sphere passes the gap."""
        return self.demand is not None and self.gap_mm is not None and self.demand.lets_through(self.gap_mm)

    def caveat(self, *figures: str) -> str:
        """Say what limits the authority of the rule, after a message that rests on some of its figures."""
        doubtful = self.demand is not None and any(f in self.demand.secondary for f in (*figures, *TRIGGERS))
        return caveat(self.rule, self.use, secondary=doubtful)


def fall_figures(site: Site, openings: Mapping[str, OpeningFigures]) -> Mapping[str, FallFigures] | Unknown:
    """Put every opening before the fall rule; Unknown where the plan names none."""
    rule = rule_named(site, "falls", FallRule)
    if isinstance(rule, Unknown):
        return rule
    asks = lru_cache(None)(rule.asks)
    found = {}
    for opening in site.openings.values():
        room = site.rooms.get(opening.room) if opening.room else None
        use = None if room is None else room.use
        answer = asks(use, opening.drop_mm, opening.sill_mm)
        lost = unread(site, "openings", opening.id, "screen")
        if answer is None:
            found[opening.id] = FallFigures(rule=rule, use=use, demand=None)
        elif lost is not None:
            found[opening.id] = FallFigures(rule=rule, use=use, demand=None, unknown=lost)
        elif isinstance(answer, Unsettled):
            lacks = " and ".join(_WORDS.get(name, name) for name in answer.lacks)
            several = len(answer.lacks) > 1
            because = (
                f"{lacks} {'are' if several else 'is'} not given, and {rule.id} asks for {'them' if several else 'it'}"
            )
            found[opening.id] = FallFigures(rule=rule, use=use, demand=None, unknown=Unknown(because, (opening.id,)))
        else:
            found[opening.id] = _measured(site, opening, openings[opening.id], rule, use, answer)
    return found


_WORDS = {"use": "use of the room"}


def _measured(
    site: Site, opening: Opening, figures: OpeningFigures, rule: FallRule, use: str | None, demand: FallDemand
) -> FallFigures:
    sphere, shape = demand.asks.sphere_mm, figures.levers
    largest = advised = None
    if sphere is not None and shape is not None and opening.hinge and opening.width_mm and opening.height_mm:
        axis = opening.axis or "horizontal"
        sides = opening.hinge, opening.width_mm, opening.height_mm
        largest = _largest(*sides, sphere, opening.actuator_at_mm, axis)
        advised = _largest(*sides, sphere - TOLERANCE_MM + 1e-6, opening.actuator_at_mm, axis)
    gap, actuator, gap_from = _gap(site, opening, figures)
    return FallFigures(
        rule=rule,
        use=use,
        demand=demand,
        gap_mm=gap,
        gap_of=actuator,
        gap_from=gap_from,
        gap_unknown=(figures.unknown if gap is None else None)
        or unread(site, "openings", opening.id, "screen", "limit_by", "hand_release", "barrier_mm"),
        largest_stroke_mm=largest,
        advised_stroke_mm=advised,
    )


GapFrom = Literal["set", "measured gap", "measured stroke"]


def _gap(site: Site, opening: Opening, figures: OpeningFigures) -> tuple[float | None, str | None, GapFrom]:
    """Give the largest gap that is set or was measured, and whose; measured first where they are equal."""
    found: list[tuple[float, str, GapFrom]] = []
    for actuator in figures.actuators:
        record = site.record.actuators.get(actuator)
        if record is not None and record.measured_gap_mm is not None:
            found.append((record.measured_gap_mm, actuator, "measured gap"))
        if record is not None and record.measured_stroke_mm is not None:
            opened = opened_to(opening, record.measured_stroke_mm)
            if opened is not None:
                found.append((opened.gap_mm, actuator, "measured stroke"))
    if figures.opened is not None:
        longest = max(figures.actuators, key=lambda a: site.actuators[a].stroke_mm or 0)
        found.append((figures.opened.gap_mm, longest, "set"))
    return max(found, key=lambda gap: gap[0]) if found else (None, None, "set")


_largest = lru_cache(4096)(largest_stroke_below_gap)
