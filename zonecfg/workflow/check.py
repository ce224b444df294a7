"""Every finding of one state, or of all site folders below a path."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from datetime import date
from pathlib import Path

from msgspec import Struct, structs

from zonecfg.checks.registry import entries
from zonecfg.checks.runner import judge
from zonecfg.document.places import Places
from zonecfg.errors import UnknownName
from zonecfg.figures import Figures
from zonecfg.results.finding import FileSummary, Finding, Findings, NotChecked, summarise
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Help, Outcome
from zonecfg.workflow.load import Catalogue, Loader, State
from zonecfg.workflow.paths import PlanFile, base_of, find
from zonecfg.workflow.spread import Crew


class Checked(Struct, frozen=True):
    """A state that was read and judged, with all that was computed of it."""

    state: State
    figures: Figures | None
    findings: tuple[Finding, ...]
    not_checked: tuple[NotChecked, ...]

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
    judged = judge(figures, file=state.file, places=state.document.places, today=today, reading=state.findings)
    return Checked(state, figures, tuple(judged.findings), tuple(judged.not_checked))


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
    )
    return Outcome(findings=answer, lines=quoted(findings, places))


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
