"""Every finding of one state, or of all site folders below a path."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path

from msgspec import Struct

from zonecfg.checks.registry import entries
from zonecfg.checks.runner import judge
from zonecfg.document.places import Places
from zonecfg.figures import Figures
from zonecfg.results.finding import FileSummary, Finding, Findings, NotChecked, summarise
from zonecfg.results.outcome import Help, Outcome
from zonecfg.workflow.load import Catalogue, Loader, State
from zonecfg.workflow.paths import Found, base_of, find


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


def check(paths: Sequence[Path], today: date) -> Outcome:
    """Find everything that is wrong.

    Parameters
    ----------
    paths
        Site files, catalogues, or folders that hold them.
    today
        The day that acceptances are judged by.

    Returns
    -------
    Outcome
        The findings; what stands in a catalogue that several sites share is told once.

    Raises
    ------
    CannotRead
        A path cannot be opened or holds no site file.
    """
    found: dict[Path, Found] = {}
    base = base_of(paths)
    for path in paths:
        for item in find(path, base):
            found.setdefault(item.path.resolve(), item)
    loader = Loader(base)
    checked = [check_state(loader.state(item), today) for item in found.values() if not item.catalogue]
    alone = [loader.catalogue(item.path) for item in found.values() if item.catalogue]
    return outcome_of(checked, alone)


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


def outcome_of(checked: Iterable[Checked], alone: Iterable[Catalogue] = ()) -> Outcome:
    """Put states and the catalogues they rest on together into one answer."""
    states = list(checked)
    catalogues = {c.document.file: c for s in states for c in s.state.catalogues}
    catalogues.update((c.document.file, c) for c in alone)
    findings = [f for s in states for f in s.findings] + [f for c in catalogues.values() for f in c.findings]
    unique = {(f.file, f.check, f.about, f.at): f for f in findings}
    ordered = tuple(sorted(unique.values(), key=lambda f: f.order))
    places = {name: p for s in states for name, p in s.state.places.items()}
    places.update((c.document.file, c.document.places) for c in catalogues.values())
    answer = Findings(
        files=tuple(sorted((s.summary for s in states), key=lambda f: f.path)),
        findings=ordered,
        not_checked=tuple(n for s in states for n in s.not_checked),
        summary=summarise(ordered),
    )
    return Outcome(findings=answer, help=helps(ordered), lines=quoted(ordered, places))


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
