"""One pass over libyaml's events: data, the place of every node, and each fault of reading by name."""

import codecs
import gc
import re
from collections.abc import Callable
from collections.abc import Set as AbstractSet
from typing import Any, NamedTuple

from msgspec import Struct
from yaml import (
    AliasEvent,
    DocumentStartEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceStartEvent,
    StreamEndEvent,
    StreamStartEvent,
    YAMLError,
)
from yaml._yaml import CParser
from yaml.reader import ReaderError

from zonecfg.document.limits import MAX_BYTES, MAX_DEPTH, MAX_REFUSALS, MAX_SCALAR
from zonecfg.document.places import Marks, Place, Places, node_count
from zonecfg.document.scalars import differs_in_yaml_1_1, resolve
from zonecfg.results.finding import Finding, Related, Severity
from zonecfg.results.pointer import join

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


class Document(Struct, frozen=True):
    """A file as read: data is None where nothing of it can be relied on."""

    file: str
    data: Any
    places: Places
    faults: tuple[Finding, ...]
    may_hold_own_keys: bool = True
    """False where no key can begin with ``x-``."""


class _Fault(NamedTuple):
    check: str
    severity: Severity
    at: str
    place: Place | None
    message: str
    related: tuple[tuple[str, Place | None], ...] = ()


class _Unreadable(Exception):
    """Reading cannot go on behind this place."""

    def __init__(self, message: str, place: Place | None = None) -> None:
        super().__init__(message)
        self.place = place


class _Dropped:
    """Stands in for a key that is there already, until its value has been read past."""


def read(raw: bytes, file: str, as_text: AbstractSet[str] = frozenset()) -> Document:
    """Read one YAML document.

    Parameters
    ----------
    raw
        The file's bytes: UTF-8, with or without a byte order mark, any line ends.
    file
        The name the findings carry.
    as_text
        Keys whose plain values stay as written, numbers too; so do plain items of lists. Below keys that begin with
        ``x-`` every value is read as YAML has it.

    Returns
    -------
    Document
        The data, its places, and the findings of reading. It never raises for content.
    """
    faults: list[_Fault] = []
    data: Any = None
    marks = Marks.empty()
    collecting = gc.isenabled()
    gc.disable()  # a plan makes no cycles while it is read; a collection would only walk it again and again
    try:
        _check_size_and_encoding(raw)
        data = _build(raw, marks, faults, as_text)
    except _Unreadable as stop:
        faults.append(_Fault("unreadable-file", "error", "", stop.place, str(stop)))
    except ReaderError:
        found = _unreadable_character(raw)
        faults.append(_Fault("unreadable-file", "error", "", found.place, str(found)))
    except YAMLError as error:
        faults.append(_syntax_fault(error))
    finally:
        if collecting:
            gc.enable()
    if any(fault.check == "unreadable-file" for fault in faults):
        data, marks = None, Marks.empty()
    own = b"x-" in raw or b"\\" in raw
    return Document(file, data, Places(data, marks, raw), tuple(_finding(file, fault) for fault in faults), own)


def _check_size_and_encoding(raw: bytes) -> None:
    if len(raw) > MAX_BYTES:
        raise _Unreadable(f"the file has more than the {MAX_BYTES:,} bytes that a plan may have")
    if raw[:2] in {codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE}:
        raise _Unreadable("the file is UTF-16; save it as UTF-8")
    for sign in _SEPARATORS:
        if (start := raw.find(sign.encode())) >= 0:
            raise _Unreadable(
                f"the line separator U+{ord(sign):04X} is a new line for some readers only; use a plain new line",
                _place_after(raw[:start].decode("utf-8-sig", "replace")),
            )


def _unreadable_character(raw: bytes) -> _Unreadable:
    """Find what libyaml stopped at, which it tells by number only."""
    bare = raw.removeprefix(codecs.BOM_UTF8)
    try:
        text = bare.decode()
    except UnicodeDecodeError as error:
        return _Unreadable(
            f"byte {bare[error.start]:#04x} is not UTF-8; save the file as UTF-8",
            _place_after(bare[: error.start].decode()),
        )
    control = _CONTROL.search(text)
    if control is None:
        return _Unreadable("this is not text that YAML can hold")
    return _Unreadable(
        f"the control character U+{ord(control[0]):04X} cannot stand in YAML", _place_after(text[: control.start()])
    )


def _place_after(before: str) -> Place:
    lines = re.split("\r\n|[\n\r]", before)
    return Place(len(lines), len(lines[-1]) + 1, len(lines[-1]) + 2)


def _place(event: Any) -> Place:
    start, end = event.start_mark, event.end_mark
    column = start.column + 1
    return Place(start.line + 1, column, end.column + 1 if end.line == start.line and end.column >= column else None)


def _syntax_fault(error: YAMLError) -> _Fault:
    problem = getattr(error, "problem", None) or ""
    mark = getattr(error, "problem_mark", None)
    reason = next((words for said, words in _SYNTAX.items() if said in problem), "this is not YAML")
    place = Place(mark.line + 1, mark.column + 1, None) if mark is not None else None
    return _Fault("unreadable-file", "error", "", place, f"cannot be read on from here: {reason}")


def _finding(file: str, fault: _Fault) -> Finding:
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
        related=tuple(
            Related(file, at, place.line if place else None, place.column if place else None)
            for at, place in fault.related
        ),
    )


def _build(raw: bytes, marks: Marks, faults: list[_Fault], as_text: AbstractSet[str]) -> Any:
    """Turn events into data, in one loop: a call a node would double the time."""
    get_event: Callable[[], Any] = CParser(raw).get_event
    mark_line, mark_column, mark_width = (part.append for part in marks)
    properties = b"&" in raw or b"!" in raw  # without these signs no node has an anchor or a tag
    known: dict[str, Any] = {}  # plain scalar -> value
    names: dict[str, str] = {}  # one string a key, however often it is written
    odd: set[str] = set()  # plain scalars that need a second look
    stack: list[tuple[Any, Any, bool]] = []  # the containers around this one, each with its pending key
    dropped: list[tuple[Any, _Dropped, int]] = []
    container: Any = []  # the document itself is the one item of this list
    key: Any = None
    in_mapping = literal = False  # literal: below an x- key
    refused = doubles = documents = 0

    def here() -> str:
        # Levels below the outermost one, each by the key or index that is being filled.
        levels = [*stack[1:], (container, key, literal)] if stack else []
        tokens = [len(c) if isinstance(c, list) else k for c, k, _ in levels]
        return join(*(t if isinstance(t, (str, int)) else "" for t in tokens if t is not None))

    def refuse(event: Any, what: str) -> None:
        nonlocal refused
        refused += 1
        faults.append(_Fault("unreadable-file", "error", here(), _place(event), what))
        if refused >= MAX_REFUSALS:
            raise _Unreadable(f"{refused} faults of this kind; reading stopped", _place(event))

    while True:
        event = get_event()
        kind = type(event)
        if kind is ScalarEvent:
            text = event.value
            mark = event.start_mark
            line, column = mark.line, mark.column
            plain = event.implicit[0]
            if plain and " " not in text and "\n" not in text:
                width = len(text)
            else:
                mark = event.end_mark
                width = mark.column - column if mark.line == line else 0
            mark_line(line)
            mark_column(column)
            mark_width(width)
            if not 0 < width < MAX_SCALAR and len(text) > MAX_SCALAR:
                raise _Unreadable(f"a text of {len(text):,} characters; {MAX_SCALAR:,} is the most", _place(event))
            if properties and (event.anchor is not None or event.tag is not None):
                _refuse_properties(event, refuse)
            if in_mapping and key is None:
                key = names.setdefault(text, text)
                if key in container:
                    doubles += 1
                    if doubles > MAX_REFUSALS:
                        raise _Unreadable(f"{doubles} keys stand twice; reading stopped", _place(event))
                    first = Places(_outermost(stack, container), marks, b"").of_key(here())
                    faults.append(_duplicate(here(), _place(event), first))
                    key = _Dropped()
                    dropped.append((container, key, len(marks.lines) - 1))
                elif plain and text == "<<":
                    refuse(event, "a merge key (<<) is not part of the format; say it with a type")
                continue
            if plain:
                try:
                    value = known[text]
                except KeyError:
                    value = known[text] = resolve(text)
                    if differs_in_yaml_1_1(text) or (type(value) is float and value - value != 0):
                        odd.add(text)
                if type(value) is not str and value is not None and not literal and (not in_mapping or key in as_text):
                    value = text
                if odd and text in odd:
                    _second_look(event, text, resolve(text), value, here, refuse, faults)
            else:
                value = text
        elif kind is MappingStartEvent or kind is SequenceStartEvent:
            if properties and (event.anchor is not None or event.tag is not None):
                _refuse_properties(event, refuse)
            if in_mapping and key is None:
                raise _Unreadable("a list or mapping cannot be a key", _place(event))
            if len(stack) >= MAX_DEPTH:
                raise _Unreadable(f"nested deeper than {MAX_DEPTH} levels", _place(event))
            mark_line(event.start_mark.line)
            mark_column(event.start_mark.column)
            mark_width(0)
            stack.append((container, key, literal))
            literal = literal or (type(key) is str and key.startswith("x-"))
            in_mapping = kind is MappingStartEvent
            container, key = ({} if in_mapping else []), None
            continue
        elif kind is AliasEvent:
            refuse(event, f"an alias (*{event.anchor}) is not part of the format; say it with a type")
            mark_line(event.start_mark.line)
            mark_column(event.start_mark.column)
            mark_width(0)
            if in_mapping and key is None:
                key = f"*{event.anchor}"
                continue
            value = None
        elif kind is DocumentStartEvent:
            documents += 1
            if documents > 1:
                raise _Unreadable("a second document begins here; one document a file", _place(event))
            if event.version or event.tags:
                refuse(event, "a directive (%) is not part of the format")
            continue
        elif kind is StreamEndEvent or event is None:
            break
        elif kind is StreamStartEvent or not stack:
            continue
        else:  # a mapping or a list ends
            value = container
            container, key, literal = stack.pop()
            in_mapping = type(container) is dict
        if in_mapping:
            container[key] = value
            key = None
        else:
            container.append(value)
    if not container or (container[0] is None and not faults):
        raise _Unreadable("the file is empty")
    for holder, stand_in, slot in reversed(dropped):
        marks.forget(slot, slot + 1 + node_count(holder.pop(stand_in)))
    return container[0]


def _outermost(stack: list[tuple[Any, Any, bool]], container: Any) -> Any:
    """Data as far as it is read, the unfinished containers hung into each other."""
    data = container
    for holder, key, _ in reversed(stack[1:]):
        data = {**holder, key: data} if isinstance(holder, dict) else [*holder, data]
    return data


def _duplicate(at: str, second: Place, first: Place | None) -> _Fault:
    name = at.rsplit("/", 1)[-1]
    stands = f" (line {first.line})" if first else ""
    return _Fault(
        "duplicate-key",
        "error",
        at,
        second,
        f"{name} stands here a second time{stands}; only one of the two can be meant",
        ((at, first),),
    )


def _refuse_properties(event: Any, refuse: Any) -> None:
    if event.anchor is not None:
        refuse(event, f"an anchor (&{event.anchor}) is not part of the format; say it with a type")
    if event.tag is not None:
        shown = event.tag.replace("tag:yaml.org,2002:", "!!")
        refuse(event, f"a tag ({shown}) is not part of the format; values have their type by how they are written")


def _second_look(
    event: Any, text: str, resolved: Any, value: Any, here: Any, refuse: Any, faults: list[_Fault]
) -> None:
    if isinstance(resolved, float) and resolved - resolved != 0 and not isinstance(value, str):
        refuse(event, f"{text} is not a figure a plan can hold; leave out what is not known")
    elif differs_in_yaml_1_1(text):
        seen = f"the text {text}" if isinstance(value, str) else f"the number {value}"
        faults.append(
            _Fault(
                "ambiguous-word",
                "warning",
                here(),
                _place(event),
                f"{text} is {seen} here, and something else to a reader of YAML 1.1; write it in quotes"
                if isinstance(value, str)
                else f"{text} is {seen} here, and something else to a reader of YAML 1.1; write {value}",
            )
        )
