"""The ways in order, with the reason in words; a person decides."""

from collections.abc import Iterator, Sequence

from zonecfg.model.site import Site
from zonecfg.results.change import CONSEQUENCES
from zonecfg.results.way import Rank, Standing, Way
from zonecfg.results.words import counted, listed


def safety_errors(way: Way) -> list[Standing]:
    """Errors there are when a way is done that somebody's safety hangs on."""
    return [s for s in way.standing if s.severity == "error" and s.consequence == "safety"]


def measures(way: Way) -> tuple[float, ...]:
    """What ways are ranked by, the first that differs.

    Whether it cannot be gone; standing safety errors, other standing errors, openings without rain closing, losses;
    then on the way the worst moment and the sum of actuators x minutes; then the steps.
    """
    errors = sum(standing.severity == "error" for standing in way.standing)
    grave = len(safety_errors(way))
    return (
        any(words.startswith("This way cannot be gone") for words in way.first),
        grave,
        errors - grave,
        len(way.uncovered_openings),
        len(way.lost),
        way.exposure.at_worst,
        way.exposure.actuator_minutes,
        len(way.steps),
    )


def ranked(ways: Sequence[Way]) -> list[Rank]:
    """Rank ways by what stands when they are done, then by what is lost, then by the way there.

    A standing safety error is never outranked by convenience. Ways with the same measures share a place, and each says
    so.
    """
    order = sorted(ways, key=lambda way: (measures(way), way.way, way.target))
    ranks = []
    for way in order:
        same = [other.name for other in order if other is not way and measures(other) == measures(way)]
        place = 1 + sum(measures(other) < measures(way) for other in order)
        ranks.append(Rank(place=place, way=way.way, target=way.target, reason=_reason(way), equal_to=tuple(same)))
    return ranks


def _reason(way: Way) -> str:
    return "; ".join(_parts(way))


def _parts(way: Way) -> Iterator[str]:
    cannot = [words for words in way.first if words.startswith("This way cannot be gone")]
    if cannot:
        yield f"t{cannot[0].rstrip('.')[1:]}"
    grave = safety_errors(way)
    errors = [s for s in way.standing if s.severity == "error"]
    if grave:
        yield f"{counted(len(grave), 'standing safety error')} ({_named(grave)})"
    if len(errors) > len(grave):
        rest = [s for s in errors if s not in grave]
        yield f"{counted(len(rest), 'other standing error')} ({_named(rest)})"
    if not errors:
        yield "no standing errors"
    if way.uncovered_openings:
        names = listed(way.uncovered_openings, most=8)
        yield f"{counted(len(way.uncovered_openings), 'window')} without rain closing when done ({names})"
    else:
        yield "every window has rain closing when done"
    yield "nothing lost" if not way.lost else f"{counted(len(way.lost), 'thing')} lost"
    if way.exposure.at_worst > way.exposure.after:
        yield f"{counted(way.exposure.at_worst, 'actuator')} without rain closing at worst on the way"
    yield counted(len(way.steps), "step")
    if way.stays:
        touches = [c for c in CONSEQUENCES if any(change.consequence == c for change in way.stays)]
        yield f"{counted(len(way.stays), 'difference')} that no setting brings back ({listed(touches)})"


def _named(standing: Sequence[Standing]) -> str:
    """Name what findings are about, check by check."""
    held: dict[str, list[str]] = {}
    for finding in standing:
        held.setdefault(finding.check, []).append(finding.about.partition("/")[2] or finding.about)
    return "; ".join(f"{check}: {listed(dict.fromkeys(abouts), most=6)}" for check, abouts in held.items())


def questions(now: Site) -> tuple[str, ...]:
    """Give what a person has to ask first; about smoke vents only where there are some."""
    asked = [
        "Was the change that would be undone wanted, and by whom?",
        "Who uses the rooms, and have they been told?",
        "Who is on site, and competent for it, to see the windows while settings change?",
        "What else was changed on the controllers since the copy, that no file shows?",
    ]
    if any(opening.smoke_vent for opening in now.openings.values()):
        asked.append("Does the fire strategy allow the smoke vents to be worked on now?")
    return tuple(asked)
