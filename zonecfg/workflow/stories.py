"""One mistake, one story: which findings are there only because of another, and what many of them have in common.

A finding hangs on another where it is gone once that one is mended, and nothing else is changed: the state is judged
again with the cure made. What has no cure that a machine knows is sought by what all findings of a check share: the
cable all of them hang on, the type all of them take the figure from, the rule set all of them break.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct, structs

from zonecfg.checks.registry import entries
from zonecfg.figures import Figures
from zonecfg.figures.cables import cable_ohm
from zonecfg.model.site import Site
from zonecfg.results.finding import Cause, Finding, Problem
from zonecfg.results.pointer import join
from zonecfg.results.words import listed

Judge = Callable[[Sequence[Mapping[str, Any]]], Iterable[Finding]]
"""Judges the same state with a patch applied to its data."""

_TRIED = 6
"""Causes tried by judging again; a file with more slips than that is read from its first ones on."""
_WORTH = 6000
"""Actuators judged again in all: a large site is judged again fewer times."""
_MANY = 3
_MANY_BY_RULE = 5
_MENDED_FIRST = frozenset({"unknown-reference", "unknown-key", "wrong-shape", "implausible-figure"})

# The field of an actuator's type that the figure of a check stands or falls with.
_RESTS_ON = {
    "thrust-too-small": "thrust_n",
    "thrust-margin-small": "thrust_n",
    "thrust-too-small-in-snow": "thrust_n",
    "stroke-over-type": "stroke_max_mm",
    "voltage-too-low": "voltage_min_v",
    "voltage-over-rating": "voltage_max_v",
    "sash-needs-more-actuators": "along_hinge_max_mm",
    "sash-needs-pivot-brackets": "hinge_to_edge_min_mm",
    "restrictor-strength-unknown": "hold_n",
    "smoke-vent-slow": "speed_mm_s",
    "sash-loose-in-storm": "hold_n",
}


class _Shared(Struct, frozen=True):
    """A line that several findings have in common."""

    about: str
    at: str
    message: str
    behind: tuple[Finding, ...]


def told_as_stories(
    findings: Sequence[Finding], figures: Figures, judge: Judge, place: Callable[[Problem], Finding]
) -> tuple[Finding, ...]:
    """Mark what hangs on another finding; where no finding stands at the common cause, make one."""
    open_ = [f for f in findings if f.accepted is None]
    because: dict[tuple[str, str], Cause] = {}
    tries = max(1, min(_TRIED, _WORTH // (len(figures.site.actuators) + 1)))
    for cause, behind in _by_mending(open_, judge, tries):
        for found in behind:
            because.setdefault(found.identity, cause)
    made = []
    for shared in _in_common([f for f in open_ if f.identity not in because], figures):
        note = next((f for f in open_ if f.about == shared.about and f not in shared.behind), None)
        if note is None:
            note = place(Problem(shared.about, shared.at, shared.message, subjects=(shared.about,)))
            made.append(note)
        for found in shared.behind:
            because.setdefault(found.identity, Cause(*note.identity))
    if not because:
        return tuple(findings)
    marked = [
        structs.replace(f, because_of=because[f.identity]) if f.accepted is None and f.identity in because else f
        for f in findings
    ]
    return tuple(sorted((*marked, *made), key=lambda f: f.order))


def _by_mending(findings: Sequence[Finding], judge: Judge, tries: int) -> Iterator[tuple[Cause, list[Finding]]]:
    """Give the findings that are gone once a slip is mended, the slip itself apart."""
    slips = [
        (found, cure.patch)
        for found in findings
        if found.check in _MENDED_FIRST
        for cure in found.cures[:1]
        if cure.patch is not None
    ]
    if not slips or len(findings) <= len(slips):
        return
    for slip, patch in slips[:tries]:
        left = {found.identity for found in judge(patch)}
        behind = [f for f in findings if f.identity != slip.identity and f.identity not in left]
        if behind:
            yield Cause(*slip.identity), behind


def _in_common(findings: Sequence[Finding], figures: Figures) -> Iterator[_Shared]:
    by_check: dict[str, list[Finding]] = {}
    for found in findings:
        if found.severity != "note":
            by_check.setdefault(found.check, []).append(found)
    site = figures.site
    places: dict[str, list[_Shared]] = {}
    for check, held in by_check.items():
        if len(held) < _MANY:
            continue
        shared = _cable(check, held, figures) or _type(check, held, site) or _rule(check, held, site)
        if shared is not None:
            places.setdefault(shared.about, []).append(shared)
    for about, several in places.items():
        behind = tuple(found for shared in several for found in shared.behind)
        yield _Shared(about, several[0].at, several[0].message, behind)


def _cable(check: str, held: Sequence[Finding], figures: Figures) -> _Shared | None:
    """Find the cable that all of them hang on, where it loses more than all others of their way."""
    if check != "voltage-too-low":
        return None
    ways = []
    for found in held:
        network = figures.power.feeding(found.about.partition("/")[2])
        ways.append(list(network.way_to(found.about.partition("/")[2])) if hasattr(network, "way_to") else [])
    common = [cable for cable in ways[0] if all(cable in way for way in ways)]
    ohms = {key: cable_ohm(figures.site.cables[key]) for way in ways for key in way}
    known = {key: ohm for key, ohm in ohms.items() if isinstance(ohm, float)}
    worst = max((key for key in common if key in known), key=lambda key: known[key], default=None)
    if worst is None or any(known[worst] < sum(known.get(k, 0.0) for k in way if k != worst) for way in ways):
        return None
    at = figures.site.at("cables", worst, "length_m")
    return _Shared(f"cables/{worst}", at, f"{worst} loses most of the voltage on the way to all of them", tuple(held))


def _type(check: str, held: Sequence[Finding], site: Site) -> _Shared | None:
    """Find the type that all of them have, where no other type is found and none of this one passes."""
    field = _RESTS_ON.get(check)
    movers = [_movers(found, site) for found in held]
    kinds = {site.actuators[actuator].type for each in movers for actuator in each}
    if field is None or not all(movers) or len(kinds) != 1:
        return None
    kind = kinds.pop()
    having = [actuator.id for actuator in site.actuators.values() if actuator.type == kind]
    types = {actuator.type for actuator in site.actuators.values()}
    own = site.own.get("actuators", {})
    if kind is None or len(types) < 2 or any(field in own.get(actuator, {}) for actuator in having):
        return None
    if {actuator for each in movers for actuator in each} != set(having):
        return None
    at = join("types", "actuators", kind, *([field] if field in site.types["actuators"].get(kind, {}) else []))
    return _Shared(f"types/actuators/{kind}", at, f"{field} of type {kind} stands behind all of them", tuple(held))


def _movers(found: Finding, site: Site) -> list[str]:
    section, _, thing = found.about.partition("/")
    if section == "actuators":
        return [thing] if thing in site.actuators else []
    return site.actuators_of.get(thing, []) if section == "openings" else []


def _rule(check: str, held: Sequence[Finding], site: Site) -> _Shared | None:
    """Find the rule set that all of them break."""
    rules = site.info.rules
    if rules is None or len(held) < _MANY_BY_RULE:
        return None
    source = entries()[check].check.source
    for kind in ("falls", "ventilation", "escape"):
        named = getattr(rules, kind)
        if named is not None and f"site.rules.{kind}" in source:
            names = listed((found.about.partition("/")[2] for found in held), most=8)
            return _Shared(
                f"site/rules/{kind}", join("site", "rules", kind), f"{named} is missed by {names}", tuple(held)
            )
    return None
