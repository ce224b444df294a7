"""Whether a fault that stood before has grown: more things, a graver word, or a figure further from its limit."""

from collections.abc import Iterable

from zonecfg.compare.rename import Names
from zonecfg.results.change import Grown, GrownSide
from zonecfg.results.finding import SEVERITIES, Finding


def renamed(subject: str, renames: Names) -> str:
    """Give the name that a thing, or what is told of it, has afterwards."""
    section, _, name = subject.partition("/")
    thing, _, rest = name.partition("/")
    new = renames.get(section, {}).get(thing)
    return subject if new is None else "/".join((section, new, *([rest] if rest else [])))


def grown(before: Finding, after: Finding, renames: Names) -> Grown | None:
    """Tell how a finding got worse; None where it did not.

    Parameters
    ----------
    before, after
        Findings of one identity in two states.
    renames
        Things that have another id afterwards, by section.
    """
    known = {renamed(subject, renames) for subject in before.subjects}
    worse = (
        not known.issuperset(after.subjects)
        or SEVERITIES.index(after.severity) < SEVERITIES.index(before.severity)
        or _further(before, after)
    )
    if not worse:
        return None
    return Grown(check=after.check, about=after.about, before=_standing(before, known), after=_standing(after))


def _further(before: Finding, after: Finding) -> bool:
    """Whether the figure as printed has moved away from the limit."""
    if before.figure is None or after.figure is None or before.limit is None or after.limit is None:
        return False
    distances = (abs(found.figure - found.limit) for found in (before, after))  # type: ignore[operator]
    was, now = (float(f"{distance:.4g}") for distance in distances)
    return now > was


def _standing(found: Finding, subjects: Iterable[str] | None = None) -> GrownSide:
    return GrownSide(
        severity=found.severity,
        subjects=found.subjects if subjects is None else tuple(sorted(subjects)),
        figure=found.figure,
    )
