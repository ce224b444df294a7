"""SARIF 2.1.0 for code scanning: one rule a check, one result a finding, regions of one line."""

import hashlib
import json
from typing import Any
from urllib.parse import quote

from zonecfg import __version__
from zonecfg.report.inert import harmless_json
from zonecfg.results.finding import Finding, Related
from zonecfg.results.outcome import Answer, Help, Told
from zonecfg.results.signs import printable

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_MOST_RESULTS = 25_000
_MOST_DESCRIPTION = 1024


def render(outcome: Answer) -> str:
    """Write findings as SARIF; accepted ones are suppressed there, those without a place left out."""
    told = outcome.told
    shown = [f for f in told.findings if f.file is not None]
    kept = sorted(shown, key=lambda f: (f.accepted is not None, _RANK[f.severity]))[:_MOST_RESULTS]
    kept.sort(key=lambda f: f.order)
    rules = list(dict.fromkeys(f.check for f in kept))
    notes = []
    if len(kept) < len(shown):
        notes.append(_notification(f"{len(shown) - len(kept)} more findings, the least severe, are left out here"))
    notes += [
        _notification(printable(f"{n.check} not checked: {n.because}{f' ({len(n.ids)} things)' if n.ids else ''}"))
        for n in told.not_checked[:100]
    ]
    run = {
        "tool": {
            "driver": {
                "name": "zonecfg",
                "semanticVersion": __version__,
                "rules": [_rule(check, told.help.get(check)) for check in rules],
            }
        },
        "columnKind": "unicodeCodePoints",
        "results": [_result(f, rules.index(f.check), told) for f in kept],
        "invocations": [{"executionSuccessful": True, "toolExecutionNotifications": notes}],
    }
    return (
        harmless_json(json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, indent=2, ensure_ascii=False))
        + "\n"
    )


_RANK = {"error": 0, "warning": 1, "note": 2}


def _notification(text: str) -> dict[str, Any]:
    return {"level": "note", "message": {"text": text}}


def _rule(check: str, help_: Help | None) -> dict[str, Any]:
    if help_ is None:
        return {"id": check, "shortDescription": {"text": check}}
    text = f"{help_.why}\n\nCure: {help_.cure}\n\nSource: {help_.source}"
    markdown = (
        f"{help_.why}\n\n**Cure:** {help_.cure}\n\nWrong:\n\n```yaml\n{help_.wrong}\n```\n\n"
        f"Right:\n\n```yaml\n{help_.right}\n```\n\nSource: {help_.source}"
    )
    return {
        "id": check,
        "shortDescription": {"text": help_.title},
        "fullDescription": {"text": help_.why[:_MOST_DESCRIPTION]},
        "help": {"text": text, "markdown": markdown},
        "defaultConfiguration": {"level": help_.severity},
        "properties": {"tags": [help_.family]},
    }


def _result(found: Finding, rule: int, told: Told) -> dict[str, Any]:
    key, new, lines = (found.file, *found.identity), told.new_keys, told.lines
    result: dict[str, Any] = {
        "ruleId": found.check,
        "ruleIndex": rule,
        "level": found.severity,
        "message": {"text": printable(found.message)},
        "locations": [_location(found.file, found.line, found.column, found.end_column)],
        "partialFingerprints": {
            "primaryLocationLineHash": _hash(
                found.check, lines.get((found.file or "", found.line or 0), ""), found.about
            ),
            "zonecfgIdentity/v1": _hash(found.check, found.about),
        },
    }
    if new is not None:
        result["baselineState"] = "new" if key in new else "updated" if key in told.worse else "unchanged"
    properties = {"subjects": found.subjects, "figure": found.figure, "limit": found.limit, "unit": found.unit}
    result["properties"] = {name: value for name, value in properties.items() if value is not None}
    if found.accepted is not None:
        signed = {"by": found.accepted_by, "until": found.accepted_until}
        result["suppressions"] = [
            {
                "kind": "external",
                "status": "accepted",
                "justification": printable(found.accepted),
                "properties": {name: value for name, value in signed.items() if value is not None},
            }
        ]
    others = [_related(other) for other in found.related if other.file is not None and other.line is not None]
    if others:
        result["relatedLocations"] = others
    return result


def _related(other: Related) -> dict[str, Any]:
    return {**_location(other.file, other.line, other.column, None), "message": {"text": printable(other.at)}}


def _location(file: str | None, line: int | None, column: int | None, end: int | None) -> dict[str, Any]:
    region = {"startLine": line or 1, "endLine": line or 1}
    if column:
        region["startColumn"] = column
    if end:
        region["endColumn"] = end
    where = quote(file or "", safe="/._-~+@!$&'()*,;=")
    return {"physicalLocation": {"artifactLocation": {"uri": where, "uriBaseId": "%SRCROOT%"}, "region": region}}


def _hash(*parts: str) -> str:
    """Stable when lines move: of words, never of line numbers."""
    return hashlib.sha256("\n".join(" ".join(part.split()) for part in parts).encode()).hexdigest()[:32]
