"""Every finding of one state, or of all site folders below a path."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from datetime import date
from pathlib import Path
from typing import Any

from msgspec import Struct, structs

from zonecfg.checks.registry import entries
from zonecfg.checks.runner import judge, placed
from zonecfg.checks.verdicts import Verdict
from zonecfg.compare.patch import patched
from zonecfg.document.places import Places
from zonecfg.errors import UnknownName
from zonecfg.figures import Figures
from zonecfg.results.finding import FileSummary, Finding, Findings, NotChecked, Problem, Verdicts, summarise
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Help, Outcome
from zonecfg.workflow.load import Catalogue, Loader, State
from zonecfg.workflow.paths import PlanFile, base_of, find
from zonecfg.workflow.spread import Crew
from zonecfg.workflow.stories import told_as_stories


class Checked(Struct, frozen=True):
    """A state that was read and judged, with all that was computed of it."""

    state: State
    figures: Figures | None
    findings: tuple[Finding, ...]
    not_checked: tuple[NotChecked, ...]
    verdicts: Mapping[str, Verdict] = {}

    @property
    def summary(self) -> FileSummary:
        """What the file is."""
        site = self.state.site
        if site is None:
            return FileSummary(path=self.state.file, state=None)
        return FileSummary(
            path=self.state.file,
            state=site.state,
            actuators=len(site.actuators),
            groups=len(site.groups),
            sensors=len(site.sensors),
        )


def check(paths: Sequence[Path], today: date, crew: Crew | None = None) -> Outcome:
    """Find everything that is wrong.

    Parameters
    ----------
    paths
        Site files, catalogues, or folders that hold them.
    today
        The day that acceptances are judged by.
    crew
        Who does the work, where there are many sites; the answer is the same.

    Returns
    -------
    Outcome
        The findings; what stands in a catalogue that several sites share is told once.

    Raises
    ------
    CannotRead
        A path cannot be opened or holds no site file.
    """
    found: dict[Path, PlanFile] = {}
    base = base_of(paths)
    for path in paths:
        for item in find(path, base):
            found.setdefault(item.path.resolve(), structs.replace(item, path=item.path.absolute()))
    return merged((crew or Crew()).each(_Work(base, Path.cwd(), today), list(found.values())))


class _Work(Struct, frozen=True):
    """Judges some of many files, in whatever process."""

    base: Path
    current: Path
    today: date

    def __call__(self, items: Sequence[PlanFile]) -> Outcome:
        loader = Loader(self.base, self.current)
        checked = [check_state(loader.state(item), self.today) for item in items if not item.catalogue]
        return _found_in(checked, [loader.catalogue(item.path) for item in items if item.catalogue])


def check_state(state: State, today: date) -> Checked:
    """Judge one state that was read."""
    if state.site is None:
        because = f"{state.file} could not be read"
        blind = tuple(
            NotChecked(check=entry.check.id, file=state.file, because=because)
            for entry in entries().values()
            if entry.problems is not None
        )
        return Checked(state, None, state.findings, blind)
    figures = Figures(state.site)
    places = state.document.places
    judged = judge(figures, file=state.file, places=places, today=today, reading=state.findings)
    findings = told_as_stories(
        judged.findings,
        figures,
        lambda patch: _mended(state, patch, today),
        lambda problem: _at_cause(state, problem),
    )
    return Checked(state, figures, findings, tuple(judged.not_checked), judged.verdicts)


def _mended(state: State, patch: Sequence[Mapping[str, Any]], today: date) -> Iterable[Finding]:
    """Find what is left once a patch is applied to a state's data, whose text stays what it is."""
    data = patched(state.document.data, patch)
    document = structs.replace(state.document, data=data, places=Places(data))
    again = Loader().state_of(document, state.path)
    if again.site is None:
        return again.findings
    return judge(Figures(again.site), file=state.file, places=None, today=today, reading=again.findings).findings


def _at_cause(state: State, problem: Problem) -> Finding:
    """Place what many findings have in common: a type where it is defined, all else in the file itself."""
    document = state.document
    if problem.about.startswith("types/") and document.places.of(problem.at) is None:
        held = (c.document for c in state.catalogues if c.document.places.of(problem.at) is not None)
        document = next(held, document)
    return placed(entries()["one-cause"].check, problem, document.file, document.places)


def outcome_of(checked: Iterable[Checked]) -> Outcome:
    """Put states and the catalogues they rest on together into one answer."""
    return merged([_found_in(checked)])


def merged(parts: Iterable[Outcome]) -> Outcome:
    """Make one answer of several; what stands in a file that several of them met is told once."""
    answers = list(parts)
    told = [answer.findings for answer in answers]
    unique = {(f.file, f.check, f.about, f.at): f for part in told for f in part.findings}
    ordered = tuple(sorted(unique.values(), key=lambda f: f.order))
    answer = Findings(
        files=tuple(sorted((file for part in told for file in part.files), key=lambda f: f.path)),
        findings=ordered,
        not_checked=tuple(n for part in told for n in part.not_checked),
        summary=summarise(ordered),
        judged=_summed(part.judged for part in told),
    )
    lines = {place: line for answer in answers for place, line in answer.lines.items()}
    return Outcome(findings=answer, help=helps(ordered), lines=lines)


def _found_in(checked: Iterable[Checked], alone: Iterable[Catalogue] = ()) -> Outcome:
    """Gather what was found in states, in the catalogues they rest on, and in others; without help and order."""
    states = list(checked)
    catalogues = {c.document.file: c for s in states for c in s.state.catalogues}
    catalogues.update((c.document.file, c) for c in alone)
    findings = (*(f for s in states for f in s.findings), *(f for c in catalogues.values() for f in c.findings))
    places = {name: p for s in states for name, p in s.state.places.items()}
    places.update((c.document.file, c.document.places) for c in catalogues.values())
    answer = Findings(
        files=tuple(s.summary for s in states),
        findings=findings,
        not_checked=tuple(n for s in states for n in s.not_checked),
        judged=_summed({check: verdict.counted for check, verdict in s.verdicts.items()} for s in states),
    )
    return Outcome(findings=answer, lines=quoted(findings, places))


def _summed(parts: Iterable[Mapping[str, Verdicts]]) -> dict[str, Verdicts]:
    """Add up what came out of each check in several files."""
    held: dict[str, list[Verdicts]] = {}
    for part in parts:
        for check_id, verdicts in part.items():
            held.setdefault(check_id, []).append(verdicts)
    return {
        check_id: each[0] if len(each) == 1 else Verdicts(**{f: sum(getattr(v, f) for v in each) for f in _COUNTS})
        for check_id, each in held.items()
    }


_COUNTS = Verdicts.__struct_fields__


def helps(findings: Iterable[Finding]) -> dict[str, Help]:
    """Give the help of every check that is named."""
    return {check_id: entries()[check_id].help for check_id in dict.fromkeys(f.check for f in findings)}


def quoted(findings: Iterable[Finding], places: Mapping[str, Places]) -> dict[tuple[str, int], str]:
    """Give the source lines that findings stand on."""
    return {
        (f.file, f.line): places[f.file].line(f.line)
        for f in findings
        if f.file is not None and f.line is not None and f.file in places
    }


def required(names: Iterable[str]) -> frozenset[str]:
    """Give the ids of the checks that families, or ids, name.

    Raises
    ------
    UnknownName
        There is no such family or check.
    """
    found: set[str] = set()
    families = dict.fromkeys(entry.family for entry in entries().values())
    for name in names:
        ids = {check_id for check_id, entry in entries().items() if name in (check_id, entry.family)}
        if not ids:
            known = did_you_mean(name, [*families, *entries()])
            raise UnknownName(f"{name} is no family and no check{known}; families are {', '.join(families)}")
        found |= ids
    return frozenset(found)


def unmet(findings: Findings, asked: AbstractSet[str]) -> bool:
    """Whether one of these checks could not judge something: silence of it is no pass."""
    return any(entry.check in asked for entry in findings.not_checked)
