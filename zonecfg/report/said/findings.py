"""Findings: the line quoted with its guilty part marked, reason and cure; then the sum, and what was not checked."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from zonecfg.report.blocks import Block, Code, Detail, Fault, Fold, Gist, Item, Items, Paragraph, Rule, Title, items
from zonecfg.report.said.sites import sites_blocks
from zonecfg.results.finding import SEVERITIES, FileSummary, Finding, NotChecked, Summary
from zonecfg.results.outcome import Help, Key, Lines, Outcome
from zonecfg.results.tally import most_frequent, tallied
from zonecfg.results.words import counted, listed


def blocks(outcome: Outcome) -> Iterator[Block]:
    """Tell every finding, then how many there are and what was not checked; of several sites, which are the worst."""
    answer = outcome.findings
    yield Title("Findings", quiet=True)
    least = SEVERITIES.index(outcome.shown)
    told = [f for f in answer.findings if SEVERITIES.index(f.severity) <= least]
    yield Detail(tuple(finding_blocks(told, answer.files, outcome.help, outcome.lines)))
    yield Rule()
    less = [f.severity for f in answer.findings if f.accepted is None and f.severity in SEVERITIES[least + 1 :]]
    if less:
        yield Paragraph(f"Not shown: {_severities(less)}.")
    sites = tallied(answer.files, answer.findings)
    if len(sites) > 1:
        yield from sites_blocks(sites, most_frequent(answer.findings))
    yield Gist((Paragraph(summary_words(answer.summary, answer.files)),))
    yield from not_checked(answer.not_checked)


def finding_blocks(
    findings: Iterable[Finding],
    files: Iterable[FileSummary],
    help_of: Mapping[str, Help],
    lines: Lines,
) -> Iterator[Block]:
    """Tell findings file by file; the reason and the cure of a check are told at its first finding."""
    summaries = {summary.path: summary for summary in files}
    explained: set[str] = set()
    told = list(findings)
    behind = _behind(told)
    hidden = {id(found) for held in behind.values() for found in held}
    shown = [f for f in told if f.accepted is None and id(f) not in hidden]
    for file, group in groupby(shown, key=lambda found: found.file or "predicted"):
        faults = []
        for found in group:
            held = behind.get((found.file, *found.identity), ())
            help_ = help_of.get(found.check) if found.check not in explained else None
            faults.append(fault(found, lines, help_, held))
            explained.add(found.check)
        yield Fold(
            title=file,
            gist=_severities([f.severity for f in faults]),
            note=_what_it_is(summaries[file]) if file in summaries else "",
            blocks=tuple(faults),
            open=True,
        )
    accepted = [found for found in told if found.accepted is not None]
    if accepted:
        entries = (
            Item((f"{f.message}. {f.accepted}{_signed(f)} (", Code(f.check), f", {f.about}, {_place(f)})"))
            for f in accepted
        )
        yield Fold(title="Accepted", gist=str(len(accepted)), blocks=(Items(tuple(entries)),))


def _behind(findings: Iterable[Finding]) -> dict[Key, list[Finding]]:
    """Give what hangs on each finding that is told, whose own cause is told; a catalogue's counts for all sites."""
    told = [f for f in findings if f.accepted is None]
    own = {(f.file, *f.identity): f for f in told}
    anywhere = {f.identity: (f.file, *f.identity) for f in told}
    held: dict[Key, list[Finding]] = {}
    for found in told:
        cause = found.because_of
        if cause is None:
            continue
        key = (found.file, cause.check, cause.about)
        key = key if key in own else anywhere.get((cause.check, cause.about), key)
        if key in own and own[key].because_of is None:
            held.setdefault(key, []).append(found)
    return held


def _signed(found: Finding) -> str:
    """Say by whom and until when a finding is accepted, as far as somebody said."""
    words = [found.accepted_by] if found.accepted_by else []
    words += [f"until {found.accepted_until}"] if found.accepted_until else []
    return f" [{', '.join(words)}]" if words else ""


def fault(found: Finding, lines: Lines, help_: Help | None = None, behind: Sequence[Finding] = ()) -> Fault:
    """Make a finding a block, with why and cure where they are to be told, and what hangs on it in one line."""
    gravest = min((found, *behind), key=lambda f: SEVERITIES.index(f.severity))
    return Fault(
        severity=gravest.severity,
        behind=_in_one_line(behind),
        message=found.message,
        check=found.check,
        about=found.about,
        file=found.file,
        line=found.line if found.file is not None else None,
        quoted=lines.get((found.file, found.line), "") if found.file is not None and found.line is not None else "",
        column=found.column,
        end_column=found.end_column,
        why=help_.why if help_ is not None else "",
        cure=help_.cure if help_ is not None else "",
    )


def _in_one_line(behind: Sequence[Finding]) -> str:
    """Say how many findings hang on one, of which checks, and about what."""
    if not behind:
        return ""
    checks = listed(dict.fromkeys(found.check for found in behind), most=4)
    things = listed(dict.fromkeys(found.about for found in behind), most=6)
    return f"and {counted(len(behind), 'finding')} behind it ({checks}): {things}"


def in_short(found: Finding) -> Item:
    """Tell a finding in one sentence."""
    return Item((f"{found.message} (", Code(found.check), f", {_place(found)})"), severity=found.severity)


def _place(found: Finding) -> str:
    return f"{found.file}:{found.line}" if found.file is not None else "predicted"


def _severities(held: Sequence[str]) -> str:
    return listed([counted(held.count(severity), severity) for severity in SEVERITIES if severity in held])


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


def summary_words(summary: Summary, files: tuple[FileSummary, ...]) -> str:
    """Say in one sentence what was found."""
    counts = [counted(getattr(summary, severity), severity) for severity in SEVERITIES if getattr(summary, severity)]
    accepted = f"; {summary.accepted} accepted" if summary.accepted else ""
    what = listed(counts) or "nothing wrong"
    return f"{what[0].upper()}{what[1:]} in {counted(len(files), 'site file') if files else 'the catalogue'}{accepted}."


def state_words(file: FileSummary, findings: Iterable[Finding]) -> str:
    """Say of a state file what it is and how many findings are open in it."""
    held = [found.severity for found in findings if found.file == file.path and found.accepted is None]
    return f"{file.path}: {_state_of(file)}, {_severities(held) or 'nothing open'}"


def not_checked(entries: Iterable[NotChecked]) -> Iterator[Block]:
    """Say what was not checked: one line a reason, the checks and ids it holds back behind it."""
    reasons: dict[str, list[NotChecked]] = {}
    for entry in entries:
        reasons.setdefault(entry.because, []).append(entry)
    if not reasons:
        return
    told = []
    for because, held in reasons.items():
        checks = listed(dict.fromkeys(entry.check for entry in held), most=4)
        ids = dict.fromkeys(name for entry in held for name in entry.ids)
        about = f" ({listed(ids, most=8)})" if ids else ""
        told.append(f"{because}{about}: {checks}")
    yield Detail((Fold(title="Not checked", gist=counted(len(told), "reason"), blocks=(items(told),)),))
