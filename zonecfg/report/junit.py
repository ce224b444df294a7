"""JUnit XML: one suite a file, one case a check that found something or was not checked."""

from collections.abc import Set as AbstractSet
from typing import Any
from xml.etree import ElementTree as ET

from zonecfg.report.blocks import Block, Paragraph
from zonecfg.report.said.findings import fault
from zonecfg.report.text import written
from zonecfg.results.finding import Finding, NotChecked
from zonecfg.results.outcome import Answer, Lines
from zonecfg.results.signs import printable
from zonecfg.results.words import listed


def render(outcome: Answer) -> str:
    """Write findings as JUnit: errors and warnings fail their check's case, notes and acceptances are told in it.

    Where a revision was compared with, only what is new or worse since then fails; the rest is told.
    """
    told = outcome.told
    new = None if told.new_keys is None else told.new_keys | told.worse
    names = dict.fromkeys([*(f.path for f in told.files), *(f.file or "predicted" for f in told.findings)])
    root = ET.Element("testsuites", name="zonecfg")
    for name in names:
        findings = [f for f in told.findings if (f.file or "predicted") == name]
        skipped = [n for n in told.not_checked if n.file == name]
        root.append(_suite(name, findings, skipped, new, told.lines))
    for key in ("tests", "failures", "skipped"):
        root.set(key, str(sum(int(suite.get(key, "0")) for suite in root)))
    root.set("errors", "0")
    ET.indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"


def _suite(
    name: str, findings: list[Finding], skipped: list[NotChecked], new: AbstractSet[Any] | None, lines: Lines
) -> ET.Element:
    suite = ET.Element("testsuite", name=printable(name))
    failures = left = 0
    by_check: dict[str, list[Finding]] = {}
    for found in findings:
        by_check.setdefault(found.check, []).append(found)
    reasons: dict[str, list[NotChecked]] = {}
    for entry in skipped:
        reasons.setdefault(entry.check, []).append(entry)
    for check in sorted({*by_check, *reasons}):
        case = ET.SubElement(suite, "testcase", name=check, classname=printable(name))
        failing = [
            f
            for f in by_check.get(check, ())
            if f.accepted is None and f.severity != "note" and (new is None or (f.file, *f.identity) in new)
        ]
        told = [f for f in by_check.get(check, ()) if f not in failing]
        if failing:
            failures += 1
            first = failing[0]
            failure = ET.SubElement(case, "failure", type=first.severity, message=printable(first.message))
            failure.text = _text(failing, lines)
        elif check in reasons:
            left += 1
            because = "; ".join(_reason(entry) for entry in reasons[check])
            ET.SubElement(case, "skipped", message=printable(because))
        if told:
            ET.SubElement(case, "system-out").text = _text(told, lines)
    if not len(suite):
        ET.SubElement(suite, "testcase", name="all checks", classname=printable(name))
    suite.set("tests", str(len(suite)))
    suite.set("failures", str(failures))
    suite.set("skipped", str(left))
    suite.set("errors", "0")
    return suite


def _reason(entry: NotChecked) -> str:
    return f"{entry.because} ({listed(entry.ids)})" if entry.ids else entry.because


def _text(findings: list[Finding], lines: Lines) -> str:
    """Write findings as text does, without colours."""
    blocks: list[Block] = []
    for found in findings:
        blocks.append(fault(found, lines))
        if found.accepted is not None:
            blocks.append(Paragraph(f"Accepted: {found.accepted}"))
    return written(blocks)
