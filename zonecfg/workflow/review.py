"""The main job in one go: check every state of a site, compare them, and say what has to be decided."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path

from msgspec import Struct, structs

from zonecfg.checks.hazards import hazards
from zonecfg.errors import CannotRead, ZonecfgError
from zonecfg.figures.margins import margins
from zonecfg.results.change import Change, Changes
from zonecfg.results.finding import Finding, Summary
from zonecfg.results.outcome import Outcome
from zonecfg.results.portfolio import Portfolio, PortfolioReview
from zonecfg.results.review import AgainstRevision, Question, Review, ReviewPage, WaysBack
from zonecfg.results.tally import SiteTally, most_frequent, site_of, tallied
from zonecfg.results.way import in_order
from zonecfg.results.words import counted, listed
from zonecfg.sheets.progress import progress
from zonecfg.workflow.against import FolderSides, against
from zonecfg.workflow.check import Checked, check_state, merged, outcome_of
from zonecfg.workflow.compare import compare_states
from zonecfg.workflow.load import Loader
from zonecfg.workflow.paths import PlanFile, find
from zonecfg.workflow.rollback import rollback_states
from zonecfg.workflow.spread import Crew

_MARGINS = 10
_ASKS = {
    "moved": "keep it so, or put it back?",
    "unlinked": "was that meant, or must the link be made again?",
    "linked": "was that meant?",
    "replaced": "is the new one calibrated, tested and in its group?",
    "removed": "was that meant?",
    "added": "is it on the plan on purpose?",
    "changed": "does the plan change, or the site?",
}


def review(folder: Path, today: date, *, revision: str | None = None) -> Review:
    """Review one site folder.

    Parameters
    ----------
    folder
        Holds ``as-designed.yaml``, ``as-commissioned.yaml`` and saved copies; one of the two states is enough.
    today
        The day that acceptances are judged by.
    revision
        Compare each file with itself there as well: ``REV``, ``A..B``, ``A...B`` or ``merge-base:REV``.

    Raises
    ------
    CannotRead
        There is no site file in it.
    GitRefuses
        There is no repository, or no such revision.
    """
    _needs_folder(folder)
    since: AgainstRevision | None = None
    if revision is None:
        checked = _read(find(folder), Loader(folder), today)
    else:
        checked, since = against(FolderSides(folder, revision, today))
    return page_of(checked, today, since)


def reviews(folder: Path, today: date, *, revision: str | None = None, crew: Crew | None = None) -> PortfolioReview:
    """Review every site folder below a path.

    Parameters
    ----------
    folder
        Holds several site folders.
    today, revision
        As for one site.
    crew
        Who does the work; the answer is the same.

    Raises
    ------
    CannotRead
        There is no site file in it.
    GitRefuses
        There is no repository, or no such revision.
    """
    _needs_folder(folder)
    if revision is None:
        sites = _by_site(find(folder))
        parts = (crew or Crew()).each(_Work(folder, Path.cwd(), today), list(sites.items()))
        found = {site: review for part in parts for site, review in part.items()}
    else:
        found = _since(folder, today, revision)
    whole = merged(Outcome(findings=review.page.check, lines=review.lines) for review in found.values())
    tallies = tallied(whole.findings.files, whole.findings.findings)
    gone = found.keys() - {tally.site for tally in tallies}  # sites of which nothing is left
    answer = Portfolio(
        sites=(*tallies, *(SiteTally(site=site, files=0, unread=0, findings=Summary()) for site in sorted(gone))),
        checks=most_frequent(whole.findings.findings),
        pages={site: review.page for site, review in found.items()},
    )
    return PortfolioReview(portfolio=answer, check=whole.findings, help=whole.help, lines=whole.lines)


def holds_several(folder: Path) -> bool:
    """Whether a folder is that of several sites: one of the two live states lies in more than one site folder."""
    if not folder.is_dir():
        return False
    homes: dict[bytes, set[str]] = {}
    for item in find(folder):
        if item.state in {b"as-designed", b"as-commissioned"}:
            homes.setdefault(item.state, set()).add(site_of(item.shown))
    return any(len(sites) > 1 for sites in homes.values())


class _Work(Struct, frozen=True):
    """Reviews some of many sites, in whatever process."""

    base: Path
    current: Path
    today: date

    def __call__(self, sites: Sequence[tuple[str, list[PlanFile]]]) -> dict[str, Review]:
        loader = Loader(self.base, self.current)
        return {site: page_of(_read(items, loader, self.today), self.today) for site, items in sites}


def _since(folder: Path, today: date, revision: str) -> dict[str, Review]:
    """Review each site with what changed in it; git is asked once for all of them."""
    checked, since = against(FolderSides(folder, revision, today))
    states: dict[str, list[Checked]] = {}
    for state in checked:
        states.setdefault(site_of(state.state.file), []).append(state)
    found = {}
    for site in dict.fromkeys((*states, *(site_of(file.path) for file in since.files))):
        files = tuple(file for file in since.files if site_of(file.path) == site)
        mine = structs.replace(
            since,
            files=files,
            unchanged=max(len(states.get(site, ())) - sum(file.status != "removed" for file in files), 0),
            introduced=tuple(f for file in files for f in file.introduced),
        )
        found[site] = page_of(states.get(site, []), today, mine)
    return found


def _by_site(items: Iterable[PlanFile]) -> dict[str, list[PlanFile]]:
    sites: dict[str, list[PlanFile]] = {}
    for item in items:
        if not item.catalogue:
            sites.setdefault(site_of(item.shown), []).append(structs.replace(item, path=item.path.absolute()))
    return sites


def _needs_folder(folder: Path) -> None:
    if not folder.is_dir():
        raise CannotRead(f"{folder.as_posix()}: review takes a site folder; check takes a file")


def _read(items: Iterable[PlanFile], loader: Loader, today: date) -> list[Checked]:
    return [check_state(loader.state(item), today) for item in items if not item.catalogue]


def page_of(checked: Sequence[Checked], today: date, since: AgainstRevision | None = None) -> Review:
    """Put one page together of the states of a site."""
    outcome = outcome_of(checked)
    designed, commissioned = (_one(checked, state) for state in ("as-designed", "as-commissioned"))
    changes: Changes | None = None
    help_, lines = dict(outcome.help), dict(outcome.lines)
    if designed is not None and commissioned is not None:
        comparison = compare_states(designed, commissioned)
        changes = comparison.changes
        help_.update(comparison.help)
        lines.update(comparison.lines)
    decisions = tuple(_decisions(outcome.findings.findings, changes))
    back = _ways_back(checked, commissioned, designed, today)
    name = next((c.state.site.info.name for c in checked if c.state.site is not None and c.state.site.info.name), None)
    stands = commissioned.figures if commissioned is not None else None
    judged = commissioned or designed
    known = judged.figures if judged is not None else None
    page = ReviewPage(
        site=name,
        check=outcome.findings,
        progress=progress(stands) if stands is not None else (),
        compare=changes,
        decisions=decisions,
        ways_back=back,
        against=since,
        hazards=hazards(known, judged.verdicts, judged.findings) if known is not None and judged is not None else (),
        margins=tuple(margins(known)[:_MARGINS]) if known is not None else (),
    )
    return Review(page=page, help=help_, lines=lines)


def _ways_back(
    checked: Sequence[Checked], commissioned: Checked | None, designed: Checked | None, today: date
) -> WaysBack | None:
    """Rank the ways back from what stands, where there is a copy to go back to."""
    copies = [c.state for c in checked if c.state.site is not None and c.state.site.state == "saved"]
    if commissioned is None or not copies:
        return None
    design = designed.state if designed is not None else None
    command = " ".join(
        ["zonecfg rollback", commissioned.state.file, *(f"--to {c.file}" for c in copies)]
        + ([f"--design {design.file}"] if design else [])
    )
    try:
        answer = rollback_states(commissioned, copies, design, today).ways
    except ZonecfgError as error:
        return WaysBack(command=command, because=str(error))
    return WaysBack(command=command, names=tuple(way.name for way in in_order(answer)), ranking=answer.ranking)


def _one(checked: Sequence[Checked], state: str) -> Checked | None:
    found = [c for c in checked if c.state.site is not None and c.state.site.state == state]
    if len(found) > 1:
        names = listed(c.state.file for c in found)
        raise CannotRead(f"{names} are all {state}; review takes the folder of one site")
    return found[0] if found else None


def _decisions(findings: Sequence[Finding], changes: Changes | None) -> Iterator[Question]:
    """Make questions of what only a person can answer: changes of behaviour first, then open errors."""
    told = changes.changes if changes else ()
    for change in told:
        if change.consequence != "record" and change.kind in _ASKS and _is_behaviour(change):
            yield Question(
                about=f"{change.section}/{change.id}",
                question=f"{change.text}: {_ASKS[change.kind]}",
                because=f"It touches {change.consequence}.",
            )
    by_check: dict[str, list[Finding]] = {}
    for found in findings:
        if found.severity == "error" and found.accepted is None:
            by_check.setdefault(found.check, []).append(found)
    for check, group in by_check.items():
        abouts = listed(dict.fromkeys(f.about for f in group))
        yield Question(
            about=abouts,
            question=f"{counted(len(group), 'error')} of {check} ({abouts}): mend, or accept with reason, by whom and "
            "until when?",
            because="",
        )


def _is_behaviour(change: Change) -> bool:
    return change.section in {"actuators", "groups", "links", "wet_weather", "strong_wind", "openings", "controllers"}
