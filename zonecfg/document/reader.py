"""One pass over libyaml's events: data, the place of every node, and each fault of reading by name."""

import codecs
import gc
from array import array
from collections.abc import Callable
from collections.abc import Set as AbstractSet
from typing import Any

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

from zonecfg.document.faults import (
    ReadingFault,
    Unreadable,
    ambiguous,
    as_finding,
    duplicate,
    event_place,
    separator_in,
    syntax_fault,
    unreadable_character,
)
from zonecfg.document.limits import MAX_BYTES, MAX_DEPTH, MAX_REFUSALS, MAX_SCALAR
from zonecfg.document.places import Places, node_count
from zonecfg.document.scalars import differs_in_yaml_1_1, resolve
from zonecfg.document.text import Text
from zonecfg.results.finding import Finding
from zonecfg.results.pointer import join


class Document(Struct, frozen=True):
    """A file as read: data is None where nothing of it can be relied on."""

    file: str
    data: Any
    places: Places
    faults: tuple[Finding, ...]
    may_hold_own_keys: bool = True
    """False where no key can begin with ``x-``."""


class _Dropped:
    """Stands in for a key that is there already, until its value has been read past."""

    def __init__(self, name: str) -> None:
        self.name = name


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
    faults: list[ReadingFault] = []
    data: Any = None
    text, starts = Text(raw), array("I")
    collecting = gc.isenabled()
    gc.disable()  # a plan makes no cycles while it is read; a collection would only walk it again and again
    try:
        _check_size_and_encoding(raw)
        data = _build(text, starts, faults, as_text)
    except Unreadable as stop:
        faults.append(ReadingFault("unreadable-file", "error", "", stop.place, str(stop)))
    except ReaderError:
        found = unreadable_character(raw)
        faults.append(ReadingFault("unreadable-file", "error", "", found.place, str(found)))
    except YAMLError as error:
        faults.append(syntax_fault(error, text))
    finally:
        if collecting:
            gc.enable()
    if any(fault.check == "unreadable-file" for fault in faults):
        data, starts = None, array("I")
    own = b"x-" in raw or b"\\" in raw
    return Document(file, data, Places(data, starts, text), tuple(as_finding(file, fault) for fault in faults), own)


def _check_size_and_encoding(raw: bytes) -> None:
    if len(raw) > MAX_BYTES:
        raise Unreadable(f"the file has more than the {MAX_BYTES:,} bytes that a plan may have")
    if raw[:2] in {codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE}:
        raise Unreadable("the file is UTF-16; save it as UTF-8")
    if (separator := separator_in(raw)) is not None:
        raise separator


def _build(text: Text, starts: "array[int]", faults: list[ReadingFault], as_text: AbstractSet[str]) -> Any:
    """Turn events into data, in one loop: a call a node would double the time."""
    get_event: Callable[[], Any] = CParser(text.raw).get_event
    mark = starts.append
    properties = b"&" in text.raw or b"!" in text.raw  # without these signs no node has an anchor or a tag
    known: dict[str, Any] = {}  # plain scalar -> value
    names: dict[str, str] = {}  # one string an id, however often it is written: looking it up compares no letters
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
        return join(*(t.name if isinstance(t, _Dropped) else t for t in tokens if t is not None))

    def refuse(event: Any, what: str) -> None:
        nonlocal refused
        refused += 1
        faults.append(ReadingFault("unreadable-file", "error", here(), event_place(event), what))
        if refused >= MAX_REFUSALS:
            raise Unreadable(f"{refused} faults of this kind; reading stopped", event_place(event))

    while True:
        event = get_event()
        kind = type(event)
        if kind is ScalarEvent:
            word = event.value
            mark(event.start_mark.index)
            if len(word) > MAX_SCALAR:
                raise Unreadable(f"a text of {len(word):,} characters; {MAX_SCALAR:,} is the most", event_place(event))
            if properties and (event.anchor is not None or event.tag is not None):
                _refuse_properties(event, refuse)
            if in_mapping and key is None:
                key = names.setdefault(word, word)
                if key in container:
                    doubles += 1
                    if doubles > MAX_REFUSALS:
                        raise Unreadable(f"{doubles} keys stand twice; reading stopped", event_place(event))
                    passed_over = any(isinstance(above, _Dropped) for _, above, _ in stack)
                    first = None if passed_over else Places(_outermost(stack, container), starts, text).of_key(here())
                    faults.append(duplicate(here(), event_place(event), first))
                    key = _Dropped(word)
                    dropped.append((container, key, len(starts) - 1))
                elif word == "<<" and not event.style:
                    refuse(event, "a merge key (<<) is not part of the format; say it with a type")
                continue
            if event.style:
                value = word
            else:
                try:
                    value = known[word]
                except KeyError:
                    word = names.get(word, word)
                    value = known[word] = resolve(word)
                    if differs_in_yaml_1_1(word) or (type(value) is float and value - value != 0):
                        odd.add(word)
                if type(value) is not str and value is not None and not literal and (not in_mapping or key in as_text):
                    value = word
                if odd and word in odd:
                    _second_look(event, word, resolve(word), value, here, refuse, faults)
        elif kind is MappingStartEvent or kind is SequenceStartEvent:
            if properties and (event.anchor is not None or event.tag is not None):
                _refuse_properties(event, refuse)
            if in_mapping and key is None:
                raise Unreadable("a list or mapping cannot be a key", event_place(event))
            if len(stack) >= MAX_DEPTH:
                raise Unreadable(f"nested deeper than {MAX_DEPTH} levels", event_place(event))
            mark(event.start_mark.index)
            stack.append((container, key, literal))
            literal = literal or (type(key) is str and key.startswith("x-"))
            in_mapping = kind is MappingStartEvent
            container, key = ({} if in_mapping else []), None
            continue
        elif kind is AliasEvent:
            refuse(event, f"an alias (*{event.anchor}) is not part of the format; say it with a type")
            mark(event.start_mark.index)
            if in_mapping and key is None:
                key = f"*{event.anchor}"
                continue
            value = None
        elif kind is DocumentStartEvent:
            documents += 1
            if documents > 1:
                raise Unreadable("a second document begins here; one document a file", event_place(event))
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
        raise Unreadable("the file is empty")
    for holder, stand_in, slot in reversed(dropped):
        del starts[slot : slot + 1 + node_count(holder.pop(stand_in))]
    return container[0]


def _outermost(stack: list[tuple[Any, Any, bool]], container: Any) -> Any:
    """Data as far as it is read, the unfinished containers hung into each other."""
    data = container
    for holder, key, _ in reversed(stack[1:]):
        data = {**holder, key: data} if isinstance(holder, dict) else [*holder, data]
    return data


def _refuse_properties(event: Any, refuse: Any) -> None:
    if event.anchor is not None:
        refuse(event, f"an anchor (&{event.anchor}) is not part of the format; say it with a type")
    if event.tag is not None:
        shown = event.tag.replace("tag:yaml.org,2002:", "!!")
        refuse(event, f"a tag ({shown}) is not part of the format; values have their type by how they are written")


def _second_look(
    event: Any, text: str, resolved: Any, value: Any, here: Any, refuse: Any, faults: list[ReadingFault]
) -> None:
    if isinstance(resolved, float) and resolved - resolved != 0 and not isinstance(value, str):
        refuse(event, f"{text} is not a figure a plan can hold; leave out what is not known")
    elif differs_in_yaml_1_1(text):
        faults.append(ambiguous(here(), event_place(event), text, value))
