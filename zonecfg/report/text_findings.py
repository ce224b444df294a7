"""Findings as text: the line quoted with its guilty part marked, the reason and the cure."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from zonecfg.report.style import Style
from zonecfg.report.text_sites import sites_lines
from zonecfg.results.finding import SEVERITIES, FileSummary, Finding, NotChecked, Summary
from zonecfg.results.outcome import Help, Lines, Outcome
from zonecfg.results.signs import printable
from zonecfg.results.tally import most_frequent, tallied
from zonecfg.results.words import counted, listed

_EDGE = "  "


def lines(outcome: Outcome, style: Style) -> Iterator[str]:
    """Tell every finding, then how many there are and what was not checked; of several sites, which are the worst."""
    answer = outcome.findings
    yield from finding_blocks(answer.findings, answer.files, outcome.help, outcome.lines, style)
    yield from rule(style)
    sites = tallied(answer.files, answer.findings)
    if len(sites) > 1:
        yield from sites_lines(sites, most_frequent(answer.findings), style)
        yield ""
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
            yield style.paint(f"{_EDGE}{printable(f'{found.check}, {found.about}, {_place_of(found)}')}", "faint")
        yield ""


def _place_of(found: Finding) -> str:
    return f"{found.file}:{found.line}" if found.file is not None else "predicted"


def _state_of(summary: FileSummary) -> str:
    if summary.actuators is None:
        return "could not be read"
    return summary.state or "state not known"


def _what_it_is(summary: FileSummary) -> str:
    if summary.actuators is None:
        return _state_of(summary)
    parts = [
        counted(summary.actuators or 0, "actuator"),
        counted(summary.groups or 0, "group"),
        counted(summary.sensors or 0, "sensor"),
    ]
    return f"{_state_of(summary)}: {', '.join(parts)}"


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
    most = max(style.width - len(number) - 10, 24)
    if len(guilty) > most:
        guilty = guilty[: most - 1] + "…"
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
    return f"{what[0].upper()}{what[1:]} in {counted(len(files), 'site file') if files else 'the catalogue'}{accepted}."


def state_words(file: FileSummary, findings: Iterable[Finding]) -> str:
    """Say of a state file what it is and how many findings are open in it."""
    held = [found.severity for found in findings if found.file == file.path and found.accepted is None]
    counts = [counted(held.count(severity), severity) for severity in SEVERITIES if severity in held]
    return f"{file.path}: {_state_of(file)}, {listed(counts) or 'nothing open'}"


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


def rule(style: Style) -> Iterator[str]:
    """Draw a line across."""
    yield style.paint("─" * min(style.width, 80), "faint")
