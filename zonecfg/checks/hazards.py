"""What every moved window came out as, hazard by hazard: what its checks say together."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from zonecfg.checks.verdicts import Verdict, Word
from zonecfg.figures import Figures
from zonecfg.results.finding import Finding, Unknown
from zonecfg.results.review import Hazard, HazardRow

HAZARDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "falls": (
            "opening-over-fall-limit",
            "barrier-too-low",
            "restrictor-strength-unknown",
            "hand-release-defeats-limit",
            "foothold-before-window",
        ),
        "fingers": ("finger-trap",),
        "force": (
            "thrust-too-small",
            "thrust-margin-small",
            "stroke-over-sash",
            "friction-stay-fitted",
            "hand-lock-fitted",
            "sash-actuators-split",
            "sash-loose-in-storm",
        ),
        "fire": (
            "smoke-stroke-not-reached",
            "smoke-vent-slow",
            "smoke-vent-unproven",
            "smoke-vent-overruled",
            "thrust-too-small-in-snow",
            "escape-window-restricted",
            "guard-before-escape",
        ),
        "rain": ("group-without-rain-closing", "left-open-in-rain"),
    }
)
"""Checks that speak of each hazard; those of rain speak of the groups that move a window."""


def hazards(figures: Figures, verdicts: Mapping[str, Verdict], findings: Iterable[Finding]) -> tuple[HazardRow, ...]:
    """Give a row for every opening that an actuator moves; a finding that is accepted was found all the same."""
    found = {(one.check, subject): one for one in findings for subject in (one.about, *one.subjects)}
    moved = (opening for opening in figures.site.openings if figures.site.actuators_of.get(opening))
    return tuple(
        HazardRow(
            opening=opening,
            **{hazard: _of(figures, verdicts, found, opening, checks) for hazard, checks in HAZARDS.items()},
        )
        for opening in moved
    )


def _of(
    figures: Figures,
    verdicts: Mapping[str, Verdict],
    found: Mapping[tuple[str, str], Finding],
    opening: str,
    checks: tuple[str, ...],
) -> Hazard:
    words = {check: _word(figures, verdicts[check], found, check, opening) for check in checks if check in verdicts}
    for word in ("found", "unknown", "passed"):
        having = tuple(check for check, said in words.items() if said == word)
        if not having:
            continue
        told = next((f for c in having if (f := found.get((c, f"openings/{opening}"))) and f.figure is not None), None)
        if word == "found" and told is not None:
            return Hazard(word=word, checks=having, figure=told.figure, limit=told.limit, unit=told.unit)
        figure, limit, unit = _kept(figures, opening, checks)
        return Hazard(word=word, checks=having, figure=figure, limit=limit, unit=unit)
    return Hazard(word="not applicable")


def _word(
    figures: Figures, verdict: Verdict, found: Mapping[tuple[str, str], Finding], check: str, opening: str
) -> Word:
    """Give the word of a check for a window; what is said of its group is said of it, but where others are meant."""
    if (check, f"openings/{opening}") in found:
        return "found"
    if check not in HAZARDS["rain"]:
        return verdict.of(opening)
    site = figures.site
    groups = {group for actuator in site.actuators_of.get(opening, ()) for group in site.groups_of.get(actuator, ())}
    words = {verdict.of(group) for group in groups} or {"unknown"}
    if "unknown" in words:
        return "unknown"
    return "passed" if words & {"passed", "found"} else "not applicable"


def _kept(figures: Figures, opening: str, checks: tuple[str, ...]) -> tuple[float | None, float | None, str | None]:
    """Give the figure that keeps its limit, where there is one: the gap of falls, the thrust of force."""
    if checks == HAZARDS["falls"] and not isinstance(figures.falls, Unknown):
        fall = figures.falls[opening]
        if fall.demand is not None and fall.gap_mm is not None and fall.limits_gap:
            return fall.gap_mm, fall.demand.sphere_mm, "mm"
    if checks == HAZARDS["force"] and (thrust := figures.thrusts.get(opening)) is not None and thrust.worst is not None:
        return thrust.worst.each_n, thrust.worst.has_n, "N"
    return None, None, None
