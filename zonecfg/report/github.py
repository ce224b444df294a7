"""Workflow commands that GitHub shows as annotations: ten errors and ten warnings a step, and what was cut is said."""

from collections.abc import Iterator

from zonecfg.results.finding import SEVERITIES, Finding
from zonecfg.results.outcome import Answer
from zonecfg.results.signs import printable
from zonecfg.results.words import counted, listed

MOST = 10
"""Annotations of one kind that a step keeps; GitHub drops the others in silence."""

_COMMANDS = {"error": "error", "warning": "warning", "note": "notice"}


def render(outcome: Answer) -> str:
    """Write findings as annotations; accepted ones are left out, and what was there before where that is known."""
    told = outcome.told
    findings = [f for f in told.findings if f.accepted is None]
    new = findings
    if told.new is not None:
        grown = (f for f in findings if (f.file, *f.identity) in told.worse)
        new = [*(f for f in told.new if f.accepted is None), *grown]
    return "".join(line + "\n" for line in _lines(new, len(findings) - len(new)))


def _lines(findings: list[Finding], before: int) -> Iterator[str]:
    cut: list[str] = []
    room = {"error": MOST, "warning": MOST, "note": MOST - 1}  # one notice is kept for what was cut
    for severity in SEVERITIES:
        held = [f for f in findings if f.severity == severity]
        yield from (_annotation(f) for f in held[: room[severity]])
        if len(held) > room[severity]:
            cut.append(counted(len(held) - room[severity], severity))
    if before > 0:
        cut.append(f"{counted(before, 'finding')} that {'was' if before == 1 else 'were'} there before")
    if cut:
        yield f"::notice title=zonecfg::{_data(f'not shown here: {listed(cut)}; the summary tells all')}"


def _annotation(found: Finding) -> str:
    properties = {"title": found.check}
    if found.file is not None:
        properties = {"file": found.file, **properties}
        if found.line is not None:
            properties |= {"line": str(found.line), "endLine": str(found.line)}
        if found.column is not None:
            properties["col"] = str(found.column)
        if found.end_column is not None:
            properties["endColumn"] = str(found.end_column - 1)
    written = ",".join(f"{key}={_property(value)}" for key, value in properties.items())
    return f"::{_COMMANDS[found.severity]} {written}::{_data(found.message)}"


def _data(text: str) -> str:
    return printable(text).replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
