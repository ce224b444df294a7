"""Faults of reading: what they are called, where they stand, and how they are said."""

import codecs
import re
from typing import Any, NamedTuple

from yaml import YAMLError

from zonecfg.document.places import Place
from zonecfg.document.scalars import in_yaml_1_1, resolve
from zonecfg.document.text import BREAK, Text
from zonecfg.results.finding import Finding, Related, Severity

_CONFLICT = re.compile(r"(<{7,}|>{7,})( |$)")
# What libyaml says of something that it waited for in vain.
_NO_END = ("could not find expected ':'", "did not find expected ',' or", "found unexpected end of stream")
_CONTROL = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
# New lines by YAML 1.1, and so to libyaml, but not by YAML 1.2: behind one of them a comment could hide a key.
_SEPARATORS = ("\x85", "\u2028", "\u2029")
# What libyaml says, in words for somebody who writes a plan; the longest match first where two could fit.
_SYNTAX = {
    "found character that cannot start": "a tab or a sign such as @ cannot begin a value; indent with spaces, or quote",
    "mapping values are not allowed": "a colon stands where no key can; check the indentation, or quote the text",
    "could not find expected ':'": "a key without its colon",
    "did not find expected key": "the indentation does not fit the lines above",
    "did not find expected '-' indicator": "the indentation of this list does not fit the lines above",
    "did not find expected <document start>": "a second document begins here; one document a file",
    "did not find expected ',' or ']'": "a list in brackets lacks its comma or its closing ]",
    "did not find expected ',' or '}'": "a mapping in braces lacks its comma or its closing }",
    "found unexpected end of stream": "the file ends inside a quoted text",
    "did not find expected node content": "a value is missing where one is needed",
    "block sequence entries are not allowed": "a list cannot begin here; check the indentation",
    "found undefined tag handle": "tags are not part of the format",
    "found unknown escape character": "a backslash in double quotes begins no known escape; use single quotes",
}


class ReadingFault(NamedTuple):
    """A fault of reading, with its place."""

    check: str
    severity: Severity
    at: str
    place: Place | None
    message: str
    related: tuple[tuple[str, Place | None], ...] = ()


class Unreadable(Exception):
    """Reading cannot go on behind this place."""

    def __init__(self, message: str, place: Place | None = None) -> None:
        super().__init__(message)
        self.place = place


def unreadable_character(raw: bytes) -> Unreadable:
    """Find what libyaml stopped at, which it tells by number only."""
    bare = raw.removeprefix(codecs.BOM_UTF8)
    try:
        text = bare.decode()
    except UnicodeDecodeError as error:
        return Unreadable(
            f"byte {bare[error.start]:#04x} is not UTF-8; save the file as UTF-8",
            _place_after(bare[: error.start].decode()),
        )
    control = _CONTROL.search(text)
    if control is None:
        return Unreadable("this is not text that YAML can hold")
    return Unreadable(
        f"the control character U+{ord(control[0]):04X} cannot stand in YAML", _place_after(text[: control.start()])
    )


def separator_in(raw: bytes) -> Unreadable | None:
    """Find a sign that is a new line for some readers only."""
    for sign in _SEPARATORS:
        if (start := raw.find(sign.encode())) >= 0:
            return Unreadable(
                f"the line separator U+{ord(sign):04X} is a new line for some readers only; use a plain new line",
                _place_after(raw[:start].decode("utf-8-sig", "replace")),
            )
    return None


def _place_after(before: str) -> Place:
    lines = BREAK.split(before)
    return Place(len(lines), len(lines[-1]) + 1, len(lines[-1]) + 2)


def event_place(event: Any) -> Place:
    """Where an event stands."""
    start, end = event.start_mark, event.end_mark
    column = start.column + 1
    return Place(start.line + 1, column, end.column + 1 if end.line == start.line and end.column >= column else None)


def syntax_fault(error: YAMLError, text: Text) -> ReadingFault:
    """Put what libyaml says into words for somebody who writes a plan.

    What was begun and does not end stands where it begins: libyaml notices some lines later.
    """
    problem = getattr(error, "problem", None) or ""
    mark, begun = getattr(error, "problem_mark", None), getattr(error, "context_mark", None)
    if marker := next((n for n, line in enumerate(text.lines, 1) if _CONFLICT.match(line)), None):
        what = "cannot be read on from here: a merge left both sides standing between markers; decide for one"
        return ReadingFault("unreadable-file", "error", "", Place(marker, 1, None), what)
    if begun is not None and mark is not None and mark.line > begun.line and problem.startswith(_NO_END):
        mark = begun
    reason = next((words for said, words in _SYNTAX.items() if said in problem), "this is not YAML")
    place = Place(mark.line + 1, mark.column + 1, None) if mark is not None else None
    return ReadingFault("unreadable-file", "error", "", place, f"cannot be read on from here: {reason}")


def as_finding(file: str, fault: ReadingFault) -> Finding:
    """Make a finding of a fault."""
    line, column, end_column = fault.place or (1, 1, None)
    return Finding(
        check=fault.check,
        severity=fault.severity,
        about=fault.at.lstrip("/") or file,
        file=file,
        at=fault.at,
        line=line,
        column=column,
        end_column=end_column,
        message=fault.message,
        subjects=(fault.at.lstrip("/"),) if fault.at else (),
        related=tuple(
            Related(file, at, place.line if place else None, place.column if place else None)
            for at, place in fault.related
        ),
    )


def duplicate(at: str, second: Place, first: Place | None) -> ReadingFault:
    """A key that stands twice."""
    name = at.rsplit("/", 1)[-1]
    stands = f" (line {first.line})" if first else ""
    return ReadingFault(
        "duplicate-key",
        "error",
        at,
        second,
        f"{name} stands here a second time{stands}; only one of the two can be meant",
        ((at, first),),
    )


def _seen(text: str, value: Any) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return str(value).lower()
    return f"the text {text}" if isinstance(value, str) else f"the number {value}"


def ambiguous(at: str, place: Place, text: str, value: Any) -> ReadingFault:
    """A plain value that readers of YAML 1.1 and 1.2 take for different things."""
    here = _seen(text, value)
    readers = (("YAML 1.1", in_yaml_1_1(text)), ("YAML 1.2", resolve(text)))
    others = [f"{seen} to a reader of {name}" for name, other in readers if (seen := _seen(text, other)) != here]
    cure = "write it in quotes" if isinstance(value, str) else f"write {value}"
    message = f"{text} is {here} here, and {' and '.join(others)}; {cure}"
    return ReadingFault("ambiguous-word", "warning", at, place, message)
