"""Windows of a schedule to the data and the text of a plan: types where windows share values, one line a window."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct

from zonecfg.document.writer import in_line, key_text
from zonecfg.drafting.schedule import ScheduledWindow, Stated
from zonecfg.model.grammar import grammar
from zonecfg.model.plan import SITE_FORMAT

SHARED = ("hinge", "opens", "width_mm", "height_mm", "glass_mm")
"""Fields that windows of one type have in common."""
WAITS: Mapping[str, str] = {
    "hinge": "stroke-over-sash",
    "opens": "thrust-too-small",
    "width_mm": "stroke-over-sash",
    "height_mm": "stroke-over-sash",
    "sill_mm": "finger-trap",
    "drop_mm": "opening-over-fall-limit",
    "facade_deg": "sensor-faces-away",
    "glass_mm": "thrust-too-small",
    "stays": "friction-stay-fitted",
    "lock": "hand-lock-fitted",
    "protection": "finger-trap",
}
"""What a plan still needs of every window, and a check that waits for it."""


class Draft(Struct, frozen=True):
    """The data of a drafted plan, where each value is from, and what is missing: field to ids."""

    data: dict[str, Any]
    origins: Mapping[str, str]
    missing: Mapping[str, tuple[str, ...]]
    made: tuple[str, ...]
    """Ids that were made, since the schedule counts windows and does not number them."""


def drafted(windows: Sequence[ScheduledWindow], name: str) -> Draft:
    """Make a plan of windows.

    Parameters
    ----------
    windows
        In the order of the schedule; one with a count stands for as many.
    name
        What the site is called.
    """
    single = list(_each(windows))
    rooms, room_ids, doubts = _rooms(single)
    types, type_of = _types(single)
    openings, origins = {}, {}
    for key, window in single:
        fields = window.fields
        own: dict[str, Any] = {}
        if key in type_of:
            own["type"] = type_of[key]
        for field in grammar().keys_at(("openings", key)):
            if field == "room" and "room" in fields:
                own["room"] = room_ids[fields["room"].value]
            elif field in fields and field != "storey" and not (key in type_of and field in SHARED):
                own[field] = _number(fields[field].value)
        openings[key] = own
        origins[key] = _origin(window)
    data: dict[str, Any] = {"format": SITE_FORMAT, "state": "as-designed", "site": {"name": name}}
    if types:
        data["types"] = {"openings": types}
    data |= {"rooms": rooms, "openings": openings}
    missing = {field: ids for field in WAITS if (ids := tuple(k for k, w in single if field not in w.fields))}
    if doubts:
        missing["storey"] = tuple(doubts)
    return Draft(data, origins, missing, tuple(key for key, window in single if window.count > 1))


def _each(windows: Iterable[ScheduledWindow]) -> Iterator[tuple[str, ScheduledWindow]]:
    for window in windows:
        if window.count == 1:
            yield window.id, window
        else:
            width = max(len(str(window.count)), 2)
            yield from ((f"{window.id}-{n:0{width}}", window) for n in range(1, window.count + 1))


def _rooms(windows: Iterable[tuple[str, ScheduledWindow]]) -> tuple[dict[str, Any], dict[str, str], list[str]]:
    """Give rooms by id, the id of each room's name, and rooms whose storey is said in two ways."""
    rooms: dict[str, Any] = {}
    ids: dict[str, str] = {}
    doubts: list[str] = []
    for _, window in windows:
        said = window.fields.get("room")
        if said is None:
            continue
        if said.value not in ids:
            made = re.sub(r"[^A-Za-z0-9_.]+", "-", said.value.strip().lower()).strip("-.") or "room"
            made = made if not made.startswith("x-") else f"room-{made}"
            number = 2
            key = made
            while key in rooms:
                key, number = f"{made}-{number}", number + 1
            ids[said.value] = key
            rooms[key] = {"name": said.value} if said.value != key else {}
        storey = window.fields.get("storey")
        held = rooms[ids[said.value]]
        if storey is not None and held.setdefault("storey", storey.value) != storey.value:
            doubts.append(ids[said.value])
    for key in doubts:
        rooms[key].pop("storey", None)
    return rooms, ids, list(dict.fromkeys(doubts))


def _types(windows: Sequence[tuple[str, ScheduledWindow]]) -> tuple[dict[str, Any], dict[str, str]]:
    """Give types that two windows or more share, by a name that says what they are, and the type of each window."""
    alike: dict[tuple[tuple[str, Any], ...], list[str]] = {}
    for key, window in windows:
        shared = tuple((field, _number(window.fields[field].value)) for field in SHARED if field in window.fields)
        if len(shared) > 1:
            alike.setdefault(shared, []).append(key)
    types: dict[str, Any] = {}
    of: dict[str, str] = {}
    for shared, keys in alike.items():
        if len(keys) < 2:
            continue
        fields = dict(shared)
        size = (
            f"{fields['width_mm']:g}x{fields['height_mm']:g}" if {"width_mm", "height_mm"} <= fields.keys() else "sash"
        )
        name = f"{fields.get('hinge', 'window')}-{size}"
        number = 2
        while name in types:
            name, number = f"{name.rsplit('--', 1)[0]}--{number}", number + 1
        types[name] = fields
        of.update(dict.fromkeys(keys, name))
    return types, of


def _number(value: Any) -> Any:
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _origin(window: ScheduledWindow) -> str:
    """Say where each value of a window is from: the row, and the heading of each field."""
    held: dict[str, str] = {}
    for field, said in window.fields.items():
        held[field] = _heading(said, window.row)
    return f"row {window.row}: " + ", ".join(f"{field} {whence}" for field, whence in held.items())


def _heading(said: Stated, row: int) -> str:
    return said.origin.removeprefix(f"row {row}, ")


def as_text(draft: Draft, files: Sequence[str], windows: Sequence[ScheduledWindow]) -> str:
    """Write a drafted plan as a person would: sections in order, one line a window, its origin behind it."""
    notes = {key: window.notes for key, window in _each(windows)}
    lacking: dict[str, list[str]] = {}
    for field, ids in draft.missing.items():
        for key in ids:
            lacking.setdefault(key, []).append(field)
    data = draft.data
    lines = [
        f"# Drafted from {', '.join(files)}. What stands behind a line says where its values are from.",
        "# Schedules give frames or holes in walls; a plan needs the sash: measure each before relying on its figures.",
        f"format: {data['format']}",
        f"state: {data['state']}",
        f"site: {in_line(data['site'])}",
        "",
    ]
    if "types" in data:
        lines += ["types:", "  openings:"]
        lines += [f"    {key_text(key)}: {in_line(fields)}" for key, fields in data["types"]["openings"].items()]
        lines.append("")
    lines += ["rooms:", *(f"  {key_text(key)}: {in_line(fields)}" for key, fields in data["rooms"].items()), ""]
    lines.append("openings:")
    for key, fields in data["openings"].items():
        said = [draft.origins[key], *notes.get(key, ())]
        if key in lacking:
            said.append(f"missing: {', '.join(lacking[key])}")
        comment = _one_line("; ".join(said))
        lines.append(f"  {key_text(key)}: {in_line(fields)}  # {comment}")
    return "\n".join(lines) + "\n"


def _one_line(text: str) -> str:
    """A comment ends with its line; what could end it early is shown as a space."""
    return " ".join(re.sub("[\x00-\x1f\x7f-\x9f\u2028\u2029]", " ", text).split())
