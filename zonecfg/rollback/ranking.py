"""The ways in order, with the reason in words; a person decides."""

from collections.abc import Sequence

from zonecfg.results.change import CONSEQUENCES
from zonecfg.results.way import Rank, Way
from zonecfg.results.words import counted, listed


def measures(way: Way) -> tuple[int, int, int, int]:
    """What ways are ranked by, the first that differs: new errors, uncovered actuators, losses, steps."""
    errors = sum(found.severity == "error" for found in way.findings.introduced)
    errors += any(words.startswith("This way cannot be gone") for words in way.first)
    return errors, way.exposure.after, len(way.lost), len(way.steps)


def ranked(ways: Sequence[Way]) -> list[Rank]:
    """Rank ways: no new errors beats fewer actuators without rain closing beats fewer losses beats fewer steps.

    Ways with the same measures share a place, and each says so.
    """
    order = sorted(ways, key=lambda way: (measures(way), way.way, way.target))
    ranks = []
    for way in order:
        same = [other.name for other in order if other is not way and measures(other) == measures(way)]
        place = 1 + sum(measures(other) < measures(way) for other in order)
        ranks.append(Rank(place=place, way=way.way, target=way.target, reason=_reason(way), equal_to=tuple(same)))
    return ranks


def _reason(way: Way) -> str:
    errors, uncovered, lost, steps = measures(way)
    parts = [
        "no new errors" if not errors else counted(errors, "new error"),
        f"{counted(uncovered, 'actuator')} without rain closing when done"
        + (f", {way.exposure.at_worst} at worst" if way.exposure.at_worst > uncovered else ""),
        "nothing lost" if not lost else f"{counted(lost, 'thing')} lost",
        counted(steps, "step"),
    ]
    if way.stays:
        touches = [c for c in CONSEQUENCES if any(change.consequence == c for change in way.stays)]
        parts.append(f"{counted(len(way.stays), 'difference')} that no setting brings back ({listed(touches)})")
    return "; ".join(parts)


QUESTIONS = (
    "Was the change that would be undone wanted, and by whom?",
    "Who uses the rooms, and have they been told?",
    "Who is on site, and competent for it, to see the windows while settings change?",
    "What else was changed on the controllers since the copy, that no file shows?",
    "Does the fire strategy allow the smoke vents to be worked on now?",
)
