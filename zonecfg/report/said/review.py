"""A review: states and findings, what differs, ways back, decisions."""

from collections.abc import Iterable, Iterator

from zonecfg.report.blocks import (
    Bar,
    Bars,
    Block,
    Code,
    Detail,
    Fold,
    Gist,
    Heading,
    Item,
    Items,
    Paragraph,
    Rule,
    Table,
    Title,
    items,
)
from zonecfg.report.said.changes import changes_blocks, folded, grown_words
from zonecfg.report.said.findings import finding_blocks, not_checked, state_words, summary_words
from zonecfg.report.said.rollback import ranking
from zonecfg.results.finding import SEVERITIES, Finding
from zonecfg.results.review import (
    AgainstRevision,
    FileSince,
    Hazard,
    HazardRow,
    Margin,
    Progress,
    Question,
    Review,
    ReviewPage,
    WaysBack,
)
from zonecfg.results.words import counted, listed

_HAZARDS = ("falls", "fingers", "force", "fire", "rain")


def blocks(review: Review) -> Iterator[Block]:
    """Tell a site on one page."""
    page = review.page
    yield Title(page.site or "Review")
    yield items([state_words(file, page.check.findings) for file in page.check.files], "States")
    if page.progress:
        yield _progress(page.progress)
    yield Detail(tuple(finding_blocks(page.check.findings, page.check.files, review.help, review.lines)))
    yield from _hazards(page.hazards)
    if page.margins:
        rows = tuple(_margin(margin) for margin in page.margins)
        headings = (("figure", ""), ("is", ""), ("limit", ""), ("used", "%"))
        yield Detail((Fold(title="Nearest to their limits", gist="", blocks=(Table("", headings, rows),)),))
    if page.compare is not None:
        yield Rule()
        yield from changes_blocks(page.compare, brief=True)
    if page.against is not None:
        yield Rule()
        yield from _against(page.against)
    if page.ways_back is not None:
        yield Rule()
        yield from _ways_back(page.ways_back)
    if page.against is None:
        if page.decisions:
            yield Gist((Rule(), Heading("To be decided"), Items(tuple(map(_question, page.decisions)), numbered=True)))
        yield Gist((Rule(), Paragraph(summary_words(page.check.summary, page.check.files))))
    else:
        yield from _since(page, page.against)
    yield from not_checked(page.check.not_checked)


def _since(page: ReviewPage, against: AgainstRevision) -> Iterator[Block]:
    """Give what a change did: what is new, worse and cleared, safety first; then what it asks; the rest folded."""
    because, before = _decisions_of(page.decisions, against)
    if before:
        rest = Items(tuple(map(_question, before)), numbered=True)
        yield Detail((Fold(title="To be decided, as before this change", gist=str(len(before)), blocks=(rest,)),))
    if because:
        yield Gist(
            (
                Rule(),
                Heading("To be decided because of this change"),
                Items(tuple(map(_question, because)), numbered=True),
            )
        )
    news = against.news(page.check.findings)
    worse = [f for f in news if (f.file, *f.identity) in against.worse]
    new = [f for f in news if f not in worse]
    gone = [f for file in against.files for f in file.cleared if file.status != "removed"]
    counts = f"Since {against.revision}: {len(new)} new, {len(worse)} worse, {len(gone)} cleared"
    stood = summary_words(page.check.summary, page.check.files)
    told = [
        *(Item((f"new: {_in_words(f)}",), severity=f.severity) for f in sorted(new, key=_gravest_first)),
        *(Item((f"worse: {_in_words(f)}",), severity=f.severity) for f in sorted(worse, key=_gravest_first)),
        *(Item((f"cleared: {_in_words(f)}",)) for f in sorted(gone, key=_gravest_first)),
    ]
    yield Gist((Rule(), Heading(counts), *([Items(tuple(told))] if told else []), Paragraph(f"As it stands: {stood}")))


def _in_words(found: Finding) -> str:
    return f"{found.message} ({found.check})"


_SAFETY = (
    "opening-over-fall",
    "barrier",
    "restrictor",
    "hand-",
    "finger",
    "foothold",
    "guard",
    "escape",
    "smoke",
    "sash-",
)
"""What checks of falls, fingers, fire and sashes that break begin with."""


def _gravest_first(found: Finding) -> tuple[int, bool, tuple[str, int, int, str, str]]:
    """Errors before warnings, of these what touches safety before the rest."""
    return SEVERITIES.index(found.severity), not found.check.startswith(_SAFETY), found.order


def _decisions_of(questions: Iterable[Question], against: AgainstRevision) -> tuple[list[Question], list[Question]]:
    """Part questions: those that a change raises, and those that stood before it."""
    touched = {f"{change.section}/{change.id}" for file in against.files for change in file.changes}
    touched |= {f.about for f in against.introduced} | {about for _, _, about in against.worse}
    because: list[Question] = []
    before: list[Question] = []
    for question in questions:
        about = set(question.about.replace(" and ", ", ").split(", "))
        (because if about & touched else before).append(question)
    return because, before


def _hazards(rows: Iterable[HazardRow]) -> Iterator[Block]:
    """Give a table of the windows with something found or not known, and count the others."""
    told = list(rows)
    if not told:
        return
    shown = [row for row in told if any(getattr(row, name).word in ("found", "unknown") for name in _HAZARDS)]
    gist = f"{len(shown)} of {counted(len(told), 'moved window')} with something found or not known"
    headings = tuple((name, "") for name in _HAZARDS)
    alike: dict[tuple[str, ...], list[str]] = {}
    for row in shown:
        alike.setdefault(tuple(_cell(getattr(row, name)) for name in _HAZARDS), []).append(row.opening)
    cells = tuple((listed(ids, most=3), *cell) for cell, ids in alike.items())
    rest = len(told) - len(shown)
    more: list[Block] = [items(list(_by_check(shown)))]
    if rest and shown:
        more.append(Paragraph(f"{counted(rest, 'more window')}: nothing found, nothing unknown."))
    blocks_ = (Table("", headings, cells), *more) if shown else (Paragraph("Nothing found, nothing unknown."),)
    yield Detail((Fold(title="Hazards, window by window", gist=gist, blocks=blocks_),))


def _by_check(rows: Iterable[HazardRow]) -> Iterator[str]:
    """Say which checks stand behind what is found or not known."""
    held: dict[tuple[str, str], dict[str, None]] = {}
    for row in rows:
        for name in _HAZARDS:
            hazard = getattr(row, name)
            if hazard.word in ("found", "unknown"):
                held.setdefault((hazard.word, name), {}).update(dict.fromkeys(hazard.checks))
    return (f"{name} {word} by {listed(checks)}" for (word, name), checks in sorted(held.items()))


def _cell(hazard: Hazard) -> str:
    word = "–" if hazard.word == "not applicable" else hazard.word
    if hazard.figure is None or hazard.limit is None:
        return word
    return f"{word}, {hazard.figure:.4g} of {hazard.limit:.4g} {hazard.unit}"


def _margin(margin: Margin) -> tuple[str, ...]:
    figure, limit = (f"{value:.4g} {margin.unit}" for value in (margin.figure, margin.limit))
    return (margin.about, margin.what, figure, limit, f"{100 * margin.used:.0f}")


def _question(question: Question) -> Item:
    return Item(question.question, (Item(question.because),) if question.because else ())


def _progress(entries: Iterable[Progress]) -> Bars:
    return Bars(
        "Commissioning",
        tuple(Bar(e.what, e.done, e.of, listed(e.failed), listed(e.open)) for e in entries),
    )


def _against(since: AgainstRevision) -> Iterator[Block]:
    yield Heading(f"Since {since.revision} ({since.commit})")
    if since.files:
        yield files_since(since.files)
    else:
        yield Paragraph("Nothing differs.")
    if since.unchanged:
        yield Paragraph(f"{counted(since.unchanged, 'file')} as before.")


def files_since(files: Iterable[FileSince]) -> Items:
    """Tell what changed in each file, and which findings came and went."""
    return Items(tuple(map(_file, files)))


def _file(file: FileSince) -> Item:
    was = f", {file.was} before" if file.was else ""
    under = [
        *([Item(file.because)] if file.because else []),
        *map(Item, folded(file.changes)),
        *(
            Item((f"{title} {found.severity}: {found.message} (", Code(found.check), ")"))
            for title, findings in (("new", file.introduced), ("cleared", file.cleared))
            for found in (findings if file.status != "removed" else ())
        ),
        *(Item((f"worse {grown_words(more)} (", Code(more.check), ")")) for more in file.worse),
    ]
    return Item(f"{file.path}: {file.status}{was}", tuple(under))


def _ways_back(back: WaysBack) -> Iterator[Block]:
    yield Heading("Ways back, the three best placed; a person decides")
    if back.because:
        yield Paragraph(back.because)
        return
    yield ranking(back.ranking[:3], back.names[:3])
    yield Paragraph((f"All {len(back.ranking)} ways with their steps: ", Code(back.command)))
