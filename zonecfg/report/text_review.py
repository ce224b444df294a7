"""A review as text: states and findings, what differs, ways back, decisions."""

from collections.abc import Iterable, Iterator

from zonecfg.report.style import Style
from zonecfg.report.text_changes import changes_lines, folded
from zonecfg.report.text_findings import finding_blocks, not_checked_lines, rule, state_words, summary_words
from zonecfg.report.text_rollback import ranking_lines
from zonecfg.results.finding import Findings
from zonecfg.results.review import AgainstRevision, Progress, Review, WaysBack
from zonecfg.results.signs import printable
from zonecfg.results.words import counted, listed

_EDGE = "  "
_BAR = 20


def lines(review: Review, style: Style) -> Iterator[str]:
    """Tell a site on one page."""
    page = review.page
    if page.site:
        yield style.paint(printable(page.site), "strong")
        yield ""
    yield from _states(page.check, style)
    yield ""
    if page.progress:
        yield style.paint("Commissioning", "strong")
        yield from progress_lines(page.progress, style)
        yield ""
    yield from finding_blocks(page.check.findings, page.check.files, review.help, review.lines, style)
    if page.compare is not None:
        yield from rule(style)
        yield from changes_lines(page.compare, style, brief=True)
        yield ""
    if page.against is not None:
        yield from rule(style)
        yield from against_lines(page.against, style)
    if page.ways_back is not None:
        yield from rule(style)
        yield style.paint("Ways back, the three best placed; a person decides", "strong")
        yield from ways_back_lines(page.ways_back, style)
        yield ""
    if page.decisions:
        yield from rule(style)
        yield style.paint("To be decided", "strong")
        for number, question in enumerate(page.decisions, 1):
            yield from style.wrapped(printable(question.question), f"{number:>3}. ")
            if question.because:
                yield from style.wrapped(printable(question.because), "     ")
        yield ""
    yield from rule(style)
    yield from style.wrapped(summary_words(page.check.summary, page.check.files))
    yield from not_checked_lines(page.check.not_checked, style)


def _states(found: Findings, style: Style) -> Iterator[str]:
    yield style.paint("States", "strong")
    for file in found.files:
        yield from style.wrapped(printable(state_words(file, found.findings)), _EDGE, _EDGE * 2)


def progress_lines(entries: Iterable[Progress], style: Style) -> Iterator[str]:
    """Tell how far commissioning is, a bar a kind of work."""
    for entry in entries:
        full = _BAR if entry.done == entry.of else min(round(_BAR * entry.done / entry.of), _BAR - 1)
        bar = "█" * full + "░" * (_BAR - full)
        start = f"{_EDGE}{entry.what:<28}{bar}  {entry.done} of {entry.of}"
        rest = [
            *([f"{listed(entry.failed)} failed"] if entry.failed else []),
            *([f"{listed(entry.open)} open"] if entry.open else []),
        ]
        first = f"{start}; " if rest else start
        yield from style.wrapped(printable("; ".join(rest)), first, " " * (len(_EDGE) + 30 + _BAR)) if rest else [start]


def against_lines(since: AgainstRevision, style: Style) -> Iterator[str]:
    """Tell what changed since a revision, file by file, and which findings are new."""
    yield style.paint(printable(f"Since {since.revision} ({since.commit})"), "strong")
    if not since.files:
        yield "Nothing differs."
    yield from files_since_lines(since, style)
    if since.unchanged:
        yield from style.wrapped(f"{counted(since.unchanged, 'file')} as before.", _EDGE)
    yield ""


def files_since_lines(since: AgainstRevision, style: Style) -> Iterator[str]:
    """Tell what changed in each file, and which findings came and went."""
    for file in since.files:
        was = f", {file.was} before" if file.was else ""
        yield from style.wrapped(printable(f"{file.path}: {file.status}{was}"), _EDGE)
        if file.because:
            yield from style.wrapped(printable(file.because), _EDGE * 2)
        for line in folded(list(file.changes)):
            yield from style.wrapped(printable(line), _EDGE * 2)
        for title, findings in (("new", file.introduced), ("cleared", file.cleared)):
            for found in findings:
                yield from style.wrapped(
                    printable(f"{title} {found.severity}: {found.message} ({found.check})"), _EDGE * 2
                )


def ways_back_lines(back: WaysBack, style: Style) -> Iterator[str]:
    """Tell the ranking in three entries, and where to read more."""
    if back.because:
        yield from style.wrapped(printable(back.because), _EDGE)
        return
    yield from ranking_lines(back.ranking[:3], back.names[:3], style)
    yield from style.wrapped(
        printable(f"All {len(back.ranking)} ways with their steps: {back.command}"), _EDGE, _EDGE * 2
    )
