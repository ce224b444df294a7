"""Text for a person at a terminal: the line quoted with its guilty part marked, the reason and the cure."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from zonecfg.report.inert import printable
from zonecfg.report.style import PLAIN, Style
from zonecfg.report.text_changes import comparison_lines, folded
from zonecfg.report.text_figures import figures_lines
from zonecfg.report.text_rehearsal import rehearsal_lines
from zonecfg.report.text_rollback import ranking_lines, rollback_lines
from zonecfg.results.figure import FiguresPage
from zonecfg.results.finding import SEVERITIES, FileSummary, Finding, NotChecked, Summary
from zonecfg.results.outcome import (
    AgainstRevision,
    Answer,
    Comparison,
    Help,
    Lines,
    Outcome,
    RehearsalOutcome,
    Review,
    RollbackOutcome,
    WaysBack,
)
from zonecfg.results.words import counted, listed

_EDGE = "  "


def render(outcome: Answer, style: Style = PLAIN) -> str:
    """Write an outcome as text."""
    if isinstance(outcome, Outcome):
        lines = _outcome_lines(outcome, style)
    elif isinstance(outcome, Comparison):
        lines = comparison_lines(outcome, style)
    elif isinstance(outcome, RollbackOutcome):
        lines = rollback_lines(outcome, style)
    elif isinstance(outcome, RehearsalOutcome):
        lines = rehearsal_lines(outcome, style)
    elif isinstance(outcome, FiguresPage):
        lines = figures_lines(outcome, style)
    else:
        lines = _review_lines(outcome, style)
    return "\n".join(lines).rstrip() + "\n"


def _outcome_lines(outcome: Outcome, style: Style) -> Iterator[str]:
    answer = outcome.findings
    yield from finding_blocks(answer.findings, answer.files, outcome.help, outcome.lines, style)
    yield from _rule(style)
    yield from style.wrapped(summary_words(answer.summary, answer.files))
    yield from not_checked_lines(answer.not_checked, style)


def finding_blocks(
    findings: Iterable[Finding],
    files: Iterable[FileSummary],
    help_of: Mapping[str, Help],
    lines: Lines,
    style: Style,
) -> Iterator[str]:
    """Tell findings file by file; the reason and the cure of a check are told at its first finding."""
    summaries = {summary.path: summary for summary in files}
    explained: set[str] = set()
    open_findings = [found for found in findings if found.accepted is None]
    for file, group in groupby(open_findings, key=lambda found: found.file or "predicted"):
        yield style.paint(printable(file), "strong")
        if file in summaries:
            yield style.paint(_what_it_is(summaries[file]), "faint")
        yield ""
        for found in group:
            yield from _block(found, help_of.get(found.check), lines, style, told=found.check in explained)
            explained.add(found.check)
    accepted = [found for found in findings if found.accepted is not None]
    if accepted:
        yield style.paint("Accepted", "strong")
        for found in accepted:
            yield from style.wrapped(printable(f"{found.message}. {found.accepted}"), _EDGE)
            yield style.paint(f"{_EDGE}{printable(f'{found.check}, {found.about}')}", "faint")
        yield ""


def _what_it_is(summary: FileSummary) -> str:
    if summary.state is None:
        return "could not be read"
    parts = [
        counted(summary.actuators or 0, "actuator"),
        counted(summary.groups or 0, "group"),
        counted(summary.sensors or 0, "sensor"),
    ]
    return f"{summary.state}: {', '.join(parts)}"


def _block(found: Finding, help_: Help | None, lines: Lines, style: Style, *, told: bool) -> Iterator[str]:
    label = f"{found.severity:<8}"
    body = style.wrapped(printable(found.message), " " * len(label))
    yield style.paint(label, found.severity) + body[0][len(label) :]
    yield from body[1:]
    indent = " " * len(label)
    if found.file is not None and found.line is not None:
        yield from _quote(found, lines.get((found.file, found.line), ""), indent, style)
    if help_ is not None and not told:
        yield from style.wrapped(f"why: {help_.why}", indent, indent + "     ")
        yield from style.wrapped(f"cure: {help_.cure}", indent, indent + "      ")
    yield style.paint(f"{indent}{printable(f'{found.check}, {found.about}')}", "faint")
    yield ""


def _quote(found: Finding, line: str, indent: str, style: Style) -> Iterator[str]:
    """Quote the line; » and « stand around the guilty part, so that it shows without colour or alignment."""
    number = f"{indent}{found.line} │ "
    if not line.strip():
        yield f"{number.rstrip()}"
        return
    start = (found.column or 1) - 1
    end = found.end_column - 1 if found.end_column is not None else len(line.rstrip())
    before, guilty, after = printable(line[:start]), printable(line[start:end]), printable(line[end:])
    room = max(style.width - len(number) - len(guilty) - 2, 8)
    if len(before) + len(after) > room:
        keep = max(room - min(len(after), room // 3), room // 2)
        if len(before) > keep:
            before = "…" + before[len(before) - keep + 1 :]
        left = max(room - len(before), 0)
        if len(after) > left:
            after = after[: max(left - 1, 0)] + "…"
    yield f"{number}{before}»{style.paint(guilty, 'guilty')}«{after}"


def summary_words(summary: Summary, files: tuple[FileSummary, ...]) -> str:
    """Say in one sentence what was found."""
    counts = [counted(getattr(summary, severity), severity) for severity in SEVERITIES if getattr(summary, severity)]
    accepted = f"; {summary.accepted} accepted" if summary.accepted else ""
    what = listed(counts) or "nothing wrong"
    return f"{what[0].upper()}{what[1:]} in {counted(len(files), 'site file')}{accepted}."


def not_checked_lines(entries: Iterable[NotChecked], style: Style) -> Iterator[str]:
    """Say what was not checked: one line a reason, the checks and ids it holds back behind it."""
    reasons: dict[str, list[NotChecked]] = {}
    for entry in entries:
        reasons.setdefault(entry.because, []).append(entry)
    if not reasons:
        return
    yield ""
    yield style.paint("Not checked", "strong")
    for because, held in reasons.items():
        checks = listed(dict.fromkeys(entry.check for entry in held), most=4)
        ids = dict.fromkeys(name for entry in held for name in entry.ids)
        about = f" ({listed(ids, most=8)})" if ids else ""
        yield from style.wrapped(printable(f"{because}{about}: {checks}"), _EDGE, _EDGE * 2)


def against_lines(since: AgainstRevision, style: Style) -> Iterator[str]:
    """Tell what changed since a revision, file by file, and which findings are new."""
    yield style.paint(printable(f"Since {since.revision} ({since.commit})"), "strong")
    if not since.files:
        yield "Nothing differs."
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
    if since.unchanged:
        yield from style.wrapped(f"{counted(since.unchanged, 'file')} as before.", _EDGE)
    yield ""


def ways_back_lines(back: WaysBack, style: Style) -> Iterator[str]:
    """Tell the ranking in three entries, and where to read more."""
    if back.because:
        yield from style.wrapped(printable(back.because), _EDGE)
        return
    yield from ranking_lines(back.ranking[:3], back.names[:3], style)
    yield from style.wrapped(
        printable(f"All {len(back.ranking)} ways with their steps: {back.command}"), _EDGE, _EDGE * 2
    )


def _rule(style: Style) -> Iterator[str]:
    yield style.paint("─" * min(style.width, 80), "faint")


def _review_lines(review: Review, style: Style) -> Iterator[str]:
    page = review.page
    if page.site:
        yield style.paint(printable(page.site), "strong")
        yield ""
    yield from finding_blocks(page.check.findings, page.check.files, review.help, review.lines, style)
    if page.compare is not None:
        yield from _rule(style)
        yield from comparison_lines(
            Comparison(changes=page.compare, help=review.help, lines=review.lines), style, brief=True
        )
        yield ""
    if page.against is not None:
        yield from _rule(style)
        yield from against_lines(page.against, style)
    if page.ways_back is not None:
        yield from _rule(style)
        yield style.paint("Ways back, the three best placed; a person decides", "strong")
        yield from ways_back_lines(page.ways_back, style)
        yield ""
    if page.decisions:
        yield from _rule(style)
        yield style.paint("To be decided", "strong")
        for number, question in enumerate(page.decisions, 1):
            yield from style.wrapped(printable(question.question), f"{number:>3}. ")
            if question.because:
                yield from style.wrapped(printable(question.because), "     ")
        yield ""
    yield from _rule(style)
    yield from style.wrapped(summary_words(page.check.summary, page.check.files))
    yield from not_checked_lines(page.check.not_checked, style)
