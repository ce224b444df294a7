"""Findings as Markdown."""

from collections.abc import Iterable, Iterator
from itertools import groupby

from zonecfg.report.inert import code_span, fenced, in_markdown
from zonecfg.report.text_findings import summary_words
from zonecfg.results.finding import SEVERITIES, Finding, NotChecked
from zonecfg.results.outcome import Lines, Outcome
from zonecfg.results.words import counted, listed


def lines(outcome: Outcome) -> Iterator[str]:
    """Tell every finding, and what was not checked."""
    yield "## Findings"
    yield ""
    yield in_markdown(summary_words(outcome.findings.summary, outcome.findings.files))
    yield ""
    yield from finding_blocks(outcome.findings.findings, outcome.lines)
    yield from not_checked_lines(outcome.findings.not_checked, "###")


def finding_blocks(findings: Iterable[Finding], lines: Lines) -> Iterator[str]:
    """Tell findings file by file; accepted ones folded."""
    told = list(findings)
    for file, group in groupby((f for f in told if f.accepted is None), key=lambda f: f.file or "predicted"):
        here = list(group)
        counts = [counted(n, s) for s in SEVERITIES if (n := sum(found.severity == s for found in here))]
        yield f"<details open><summary>{in_markdown(file)}: {listed(counts)}</summary>"
        yield ""
        for found in here:
            yield from finding_item(found, lines)
        yield ""
        yield "</details>"
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


def finding_item(found: Finding, lines: Lines) -> Iterator[str]:
    """Tell one finding with the line it stands on."""
    place = f", line {found.line}" if found.line is not None else ""
    yield f"- **{found.severity}** {in_markdown(found.message)} ({code_span(found.check)}{place})"
    line = lines.get((found.file or "", found.line or 0), "")
    if line.strip():
        yield ""
        yield from (f"  {text}" for text in fenced([line], "yaml"))
        yield ""


def not_checked_lines(entries: Iterable[NotChecked], heading: str) -> Iterator[str]:
    """Say what was not checked, folded."""
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
