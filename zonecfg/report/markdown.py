"""Markdown for a pull request or a step summary."""

from collections.abc import Iterable, Iterator
from itertools import groupby

from zonecfg.report.inert import code_span, fenced, in_markdown
from zonecfg.report.markdown_figures import figures_markdown
from zonecfg.report.markdown_rollback import rollback_markdown
from zonecfg.report.text import summary_words
from zonecfg.report.text_changes import counts_in_words, figure_words, folded
from zonecfg.report.text_rehearsal import CAUTION as REHEARSAL_CAUTION
from zonecfg.report.text_rehearsal import clock, open_in_rain_words
from zonecfg.report.text_rollback import rank_words
from zonecfg.results.change import CONSEQUENCES, Changes
from zonecfg.results.figure import FiguresPage
from zonecfg.results.finding import Finding, NotChecked
from zonecfg.results.outcome import (
    AgainstRevision,
    Answer,
    Comparison,
    Lines,
    Outcome,
    RehearsalOutcome,
    Review,
    RollbackOutcome,
)
from zonecfg.results.words import listed


def render(outcome: Answer) -> str:
    """Write an outcome as GitHub-flavoured Markdown."""
    if isinstance(outcome, Outcome):
        lines = _outcome(outcome)
    elif isinstance(outcome, Comparison):
        lines = _changes(outcome.changes, "##", outcome.lines)
    elif isinstance(outcome, RollbackOutcome):
        lines = rollback_markdown(outcome)
    elif isinstance(outcome, RehearsalOutcome):
        lines = _rehearsal(outcome)
    elif isinstance(outcome, FiguresPage):
        lines = figures_markdown(outcome)
    else:
        lines = _review(outcome)
    return "\n".join(lines).rstrip() + "\n"


def _outcome(outcome: Outcome) -> Iterator[str]:
    yield "## Findings"
    yield ""
    yield in_markdown(summary_words(outcome.findings.summary, outcome.findings.files))
    yield ""
    yield from _findings(outcome.findings.findings, outcome.lines, "###")
    yield from _not_checked(outcome.findings.not_checked, "###")


def _findings(findings: Iterable[Finding], lines: Lines, heading: str) -> Iterator[str]:
    told = list(findings)
    for file, group in groupby((f for f in told if f.accepted is None), key=lambda f: f.file or "predicted"):
        yield f"{heading} {in_markdown(file)}"
        yield ""
        for found in group:
            yield from _finding(found, lines)
        yield ""
    accepted = [f for f in told if f.accepted is not None]
    if accepted:
        yield f"<details><summary>{len(accepted)} accepted</summary>"
        yield ""
        for found in accepted:
            yield f"- {in_markdown(found.message)}. {in_markdown(found.accepted or '')} ({code_span(found.check)})"
        yield ""
        yield "</details>"
        yield ""


def _finding(found: Finding, lines: Lines) -> Iterator[str]:
    place = f", line {found.line}" if found.line is not None else ""
    yield f"- **{found.severity}** {in_markdown(found.message)} ({code_span(found.check)}{place})"
    line = lines.get((found.file or "", found.line or 0), "")
    if line.strip():
        yield ""
        yield from (f"  {text}" for text in fenced([line], "yaml"))
        yield ""


def _not_checked(entries: Iterable[NotChecked], heading: str) -> Iterator[str]:
    listed_entries = list(entries)
    if not listed_entries:
        return
    yield f"{heading} Not checked"
    yield ""
    yield f"<details><summary>{len(listed_entries)} reasons</summary>"
    yield ""
    for entry in listed_entries:
        ids = f" ({in_markdown(listed(entry.ids, most=8))})" if entry.ids else ""
        where = f", {in_markdown(entry.file)}" if entry.file else ""
        yield f"- {code_span(entry.check)}: {in_markdown(entry.because)}{ids}{where}"
    yield ""
    yield "</details>"
    yield ""


def _changes(changes: Changes, heading: str, lines: Lines, *, brief: bool = False) -> Iterator[str]:
    yield f"{heading} From {in_markdown(changes.before.path)} to {in_markdown(changes.after.path)}"
    yield ""
    if not changes.changes:
        yield "Nothing differs."
        return
    yield f"{counts_in_words(changes.changes)}."
    yield ""
    for consequence in CONSEQUENCES:
        group = [change for change in changes.changes if change.consequence == consequence]
        if group:
            yield f"**{consequence.capitalize()}**"
            yield ""
            yield from (f"- {in_markdown(line)}" for line in folded(group))
            yield ""
    if changes.figures:
        yield "**Figures**"
        yield ""
        yield from (f"- {in_markdown(figure_words(move))}" for move in changes.figures)
        yield ""
    if brief:
        return
    for title, found in (("introduced", changes.findings.introduced), ("cleared", changes.findings.cleared)):
        if found:
            yield f"{heading}# Findings {title}"
            yield ""
            for item in found:
                yield from _finding(item, lines)
            yield ""


def _review(review: Review) -> Iterator[str]:
    page = review.page
    yield f"# {in_markdown(page.site)}" if page.site else "# Review"
    yield ""
    yield in_markdown(summary_words(page.check.summary, page.check.files))
    yield ""
    if page.decisions:
        yield "## To be decided"
        yield ""
        for number, question in enumerate(page.decisions, 1):
            because = f" {in_markdown(question.because)}" if question.because else ""
            yield f"{number}. {in_markdown(question.question)}{because}"
        yield ""
    if page.compare is not None:
        yield from _changes(page.compare, "##", review.lines, brief=True)
    if page.against is not None:
        yield from _against(page.against, review.lines)
    if page.ways_back is not None:
        yield "## Ways back"
        yield ""
        if page.ways_back.because:
            yield in_markdown(page.ways_back.because)
        for rank, name in zip(page.ways_back.ranking[:3], page.ways_back.names[:3], strict=True):
            yield f"{rank.place}. {in_markdown(rank_words(rank, name))}"
        yield ""
        yield f"A person decides. All ways with their steps: {code_span(page.ways_back.command)}"
        yield ""
    yield "## Findings"
    yield ""
    yield from _findings(page.check.findings, review.lines, "###")
    yield from _not_checked(page.check.not_checked, "##")


def _against(since: AgainstRevision, lines: Lines) -> Iterator[str]:
    yield f"## Since {in_markdown(since.revision)} ({since.commit})"
    yield ""
    if not since.files:
        yield "Nothing differs."
        yield ""
    for file in since.files:
        was = f", {in_markdown(file.was)} before" if file.was else ""
        yield f"**{in_markdown(file.path)}**: {file.status}{was}"
        yield ""
        if file.because:
            yield in_markdown(file.because)
            yield ""
        yield from (f"- {in_markdown(line)}" for line in folded(list(file.changes)))
        yield ""
        for title, findings in (("New", file.introduced), ("Cleared", file.cleared)):
            if findings:
                yield f"{title}:"
                yield ""
                for found in findings:
                    yield from _finding(found, lines)
                yield ""


def _rehearsal(outcome: RehearsalOutcome) -> Iterator[str]:
    answer = outcome.rehearsal
    yield f"# Rehearsal of {in_markdown(answer.file)}"
    yield ""
    yield from (f"- {in_markdown(words)}" for words in open_in_rain_words(answer.open_in_rain))
    yield from (f"- {in_markdown(note)}" for note in answer.notes)
    yield ""
    yield "| time | what |"
    yield "|---|---|"
    yield from (f"| {clock(event.at_s)} | {in_markdown(event.text)} |" for event in answer.happenings)
    yield ""
    yield in_markdown(REHEARSAL_CAUTION)
