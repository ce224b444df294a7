"""What came out of each check for each thing it looked at: passed, found, not known, or not for it."""

from collections.abc import Collection, Iterable, Mapping
from collections.abc import Set as AbstractSet
from typing import Literal

from msgspec import Struct

from zonecfg.checks.registry import Enrolled, entries
from zonecfg.checks.scope import Scope
from zonecfg.figures import Figures
from zonecfg.results.finding import Finding, NotChecked, Verdicts

Word = Literal["passed", "found", "unknown", "not applicable"]


class Verdict(Struct, frozen=True):
    """The things of a section that a check is over: those it applies to, and those it found wrong or does not know."""

    everything: Collection[str]
    applies: AbstractSet[str]
    found: AbstractSet[str] = frozenset()
    unknown: AbstractSet[str] = frozenset()

    def of(self, thing: str) -> Word:
        """Say what came out for one thing."""
        if thing in self.found:
            return "found"
        if thing in self.unknown:
            return "unknown"
        return "passed" if thing in self.applies else "not applicable"

    @property
    def counted(self) -> Verdicts:
        """How many things came out how."""
        unknown = self.unknown - self.found
        looked_at = self.applies | self.found | unknown
        return Verdicts(
            passed=len(looked_at) - len(self.found) - len(unknown),
            found=len(self.found),
            unknown=len(unknown),
            not_applicable=max(len(self.everything) - len(looked_at), 0),
        )


def verdicts(figures: Figures, findings: Iterable[Finding], not_checked: Iterable[NotChecked]) -> Mapping[str, Verdict]:
    """Give the verdict of every check that judges sites; a finding that is accepted was found all the same."""
    subjects: dict[str, set[str]] = {}
    for found in findings:
        subjects.setdefault(found.check, set()).update(found.subjects or (found.about,))
    blind: dict[str, list[NotChecked]] = {}
    for reason in not_checked:
        blind.setdefault(reason.check, []).append(reason)
    scopes: dict[tuple[str, Scope | None], AbstractSet[str]] = {}
    told = {}
    for check_id, entry in entries().items():
        if entry.problems is not None:
            told[check_id] = _verdict(entry, figures, subjects.get(check_id, ()), blind.get(check_id, ()), scopes)
    return told


def _verdict(
    entry: Enrolled,
    figures: Figures,
    subjects: Collection[str],
    blind: Collection[NotChecked],
    scopes: dict[tuple[str, Scope | None], AbstractSet[str]],
) -> Verdict:
    check, site = entry.check, figures.site
    everything = ("site",) if check.over == "site" else getattr(site, check.over)
    if not entry.judges(site.state):
        return Verdict(everything, frozenset())
    lost = any(section in site.unknown for section in check.needs)
    key = (check.over, None if lost else check.scope)
    if key not in scopes:
        scopes[key] = frozenset(everything if key[1] is None else key[1](figures))
    applies = scopes[key]
    if check.over == "site":
        return Verdict(everything, applies, frozenset(everything if subjects else ()))
    prefix = check.over + "/"
    found = frozenset(subject[len(prefix) :] for subject in subjects if subject.startswith(prefix))
    unknown: set[str] = set()
    for reason in blind:
        named = [name for name in reason.ids if name in everything]
        unknown.update(named or applies)
    return Verdict(everything, applies, found, unknown - found)
