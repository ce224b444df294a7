"""A window schedule understood: which column says what, in which unit and order, and what each row says of a window."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import Any

from msgspec import Struct

from zonecfg.document.reader import read
from zonecfg.drafting.sizes import Length, length, pair, unit_that_fits
from zonecfg.drafting.table import ScheduleRow, ScheduleSheet
from zonecfg.errors import Undecided, UnreadableSheet
from zonecfg.results.words import listed

_UNIT = re.compile(r"[(\[]\s*(mm|cm|m|in|inches|ft|\")\s*[)\]]|\b(mm)\b", re.IGNORECASE)
_BRACKETS = re.compile(r"[(\[].*?[)\]]")
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]*")


class Stated(Struct, frozen=True):
    """A value with where it is from."""

    value: Any
    origin: str


class ScheduledWindow(Struct, frozen=True):
    """What a row says of one window, or of a type with a count; a field it does not say is not there."""

    id: str
    row: int
    file: str
    fields: Mapping[str, Stated]
    count: int = 1
    notes: tuple[str, ...] = ()


class Drafted(Struct, frozen=True):
    """Everything a schedule says: windows, how many are fixed, and words that were not understood."""

    windows: tuple[ScheduledWindow, ...]
    fixed: int
    unread: Mapping[str, tuple[str, ...]]


class DraftOptions(Struct, frozen=True):
    """What a person says where a schedule does not: unit of sizes, their order in one cell, the room, the sheet."""

    unit: str | None = None
    size_order: str | None = None
    room: str | None = None
    sheet: str | None = None


@cache
def words() -> dict[str, Any]:
    """Read the words of schedules."""
    raw = files("zonecfg.drafting").joinpath("words-en.yaml").read_bytes()
    data: dict[str, Any] = read(raw, "words-en.yaml").data
    return data


def understand(sheets: Sequence[ScheduleSheet], file: str, options: DraftOptions) -> Drafted:
    """Make windows of a schedule's cells.

    Raises
    ------
    Undecided
        Unit, order of sizes, room or sheet cannot be told; the message names the option that says it.
    UnreadableSheet
        There is no header, two rows have one mark, or a row says what cannot be.
    """
    chosen = _sheet(sheets, file, options.sheet)
    header, columns = _header(chosen, file)
    titles = {name: chosen.lines[header].cells[at] for name, at in columns.items()}
    rows = [line for line in chosen.lines[header + 1 :] if any(line.cells)]
    if "id" not in columns and "type" not in columns:
        raise UnreadableSheet(f"{file}: no column tells windows apart (Mark, Window No, Type)")
    if "room" not in columns and options.room is None:
        raise Undecided(f"{file}: no column tells the room; name one for all with --room")
    reading = _Reading(file, columns, titles, options, rows)
    windows = [window for line in rows if (window := reading.window(line)) is not None]
    _refuse_doubles(windows, file)
    if not windows:
        raise UnreadableSheet(f"{file}: no row below the header is of a window that opens")
    return Drafted(tuple(windows), reading.fixed, {key: tuple(dict.fromkeys(v)) for key, v in reading.unread.items()})


def _sheet(sheets: Sequence[ScheduleSheet], file: str, named: str | None) -> ScheduleSheet:
    if named is not None:
        found = [sheet for sheet in sheets if sheet.name == named]
        if not found:
            raise Undecided(f"{file}: there is no sheet {named}; there are {listed(s.name for s in sheets)}")
        return found[0]
    having = [sheet for sheet in sheets if _find_header(sheet) is not None]
    if len(having) > 1:
        raise Undecided(f"{file}: {listed(s.name for s in having)} all look like schedules; name one with --sheet")
    if not having:
        raise UnreadableSheet(f"{file}: no row looks like the header of a window schedule")
    return having[0]


def _header(sheet: ScheduleSheet, file: str) -> tuple[int, dict[str, int]]:
    found = _find_header(sheet)
    if found is None:
        raise UnreadableSheet(f"{file}: no row looks like the header of a window schedule")
    if again := [n for n in range(found[0] + 1, len(sheet.lines)) if len(_columns(sheet.lines[n].cells)) >= _ENOUGH]:
        row = sheet.lines[again[0]].number
        raise UnreadableSheet(f"{file}: row {row} looks like a second header; save one table a file")
    return found


_ENOUGH = 3


def _find_header(sheet: ScheduleSheet) -> tuple[int, dict[str, int]] | None:
    """Find the first row with two known headers or more; rows above it are titles."""
    for number, line in enumerate(sheet.lines[:60]):
        columns = _columns(line.cells)
        if len(columns) >= 2 and columns.keys() & {"id", "type", "width", "height", "size", "hinge"}:
            return number, columns
    return None


def _columns(cells: Iterable[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for at, cell in enumerate(cells):
        key = _plain(_BRACKETS.sub(" ", cell))
        field = next((name for name, known in words()["headers"].items() if key and key in known), None)
        if field is not None and field not in found:
            found[field] = at
    return found


def _plain(text: str) -> str:
    """Write a header or a word so that it is found: small, without dots, one space."""
    return " ".join(re.sub(r"[._:]", " ", text.lower()).replace(" mm", " ").split())


def _refuse_doubles(windows: Iterable[ScheduledWindow], file: str) -> None:
    rows: dict[str, list[int]] = {}
    for window in windows:
        rows.setdefault(window.id, []).append(window.row)
    for name, held in rows.items():
        if len(held) > 1:
            raise UnreadableSheet(f"{file}: {name} stands in rows {listed(map(str, held))}; each mark is of one window")


class _Reading:
    """The rows of one schedule, read one by one."""

    def __init__(
        self,
        file: str,
        columns: Mapping[str, int],
        titles: Mapping[str, str],
        options: DraftOptions,
        rows: Sequence[ScheduleRow],
    ) -> None:
        self.file, self.columns, self.titles, self.options = file, columns, titles, options
        self.fixed = 0
        self.unread: dict[str, list[str]] = {}
        self.unit = options.unit or self._unit(rows)
        self.order = self._order(rows)

    def _cell(self, line: ScheduleRow, name: str) -> str:
        at = self.columns.get(name)
        return line.cells[at] if at is not None and at < len(line.cells) else ""

    def _origin(self, line: ScheduleRow, name: str) -> str:
        title = " ".join(self.titles[name].split())
        return f'row {line.number}, "{title[:40]}"'

    # What holds for all rows.

    def _unit(self, rows: Sequence[ScheduleRow]) -> str | None:
        """Give the unit of numbers that say none: the header's, else the one that fits every row."""
        sized = [
            n for n in ("width", "height", "size", "other_width", "other_height", "other_size") if n in self.columns
        ]
        said = {_unit_of(self.titles[name]) for name in sized} - {None}
        if len(said) == 1:
            return said.pop()
        bare = [found for line in rows for found in self._lengths(line, sized) if found.unit is None]
        if any(found.doubtful for found in bare):
            raise Undecided(f"{self.file}: a number such as 1,200 may be 1200 or 1.2; say the unit with --unit")
        fits = unit_that_fits([found.number for found in bare])
        if bare and fits is None:
            raise Undecided(
                f"{self.file}: no unit is said, and none fits every size; say it with --unit mm, cm, m or in"
            )
        return fits

    def _lengths(self, line: ScheduleRow, names: Iterable[str]) -> Iterator[Length]:
        for name in names:
            text = self._cell(line, name)
            if two := pair(text):
                yield from (two.first, two.second)
            elif one := length(text):
                yield one

    def _order(self, rows: Sequence[ScheduleRow]) -> str | None:
        """Give the order of two sizes in a cell: what letters in the cells say, else the header, else the option."""
        if self.options.size_order is not None:
            return {"width-height": "wh", "height-width": "hw"}[self.options.size_order]
        name = next((n for n in ("size", "other_size") if n in self.columns), None)
        if name is None or {"width", "height"} <= self.columns.keys():
            return None
        title = _plain(self.titles[name]).replace(" ", "")
        if title in ("wxh", "widthxheight", "openingwxh"):
            return "wh"
        if title in ("hxw", "heightxwidth"):
            return "hw"
        unsaid = [two for line in rows if (two := pair(self._cell(line, name))) and two.order is None]
        if any(two.first.number != two.second.number for two in unsaid):
            raise Undecided(
                f"{self.file}: which of two sizes in {self.titles[name]} is the width is said nowhere; say it with "
                "--size-order width-height or height-width"
            )
        return "wh"

    # What one row says.

    def window(self, line: ScheduleRow) -> ScheduledWindow | None:
        """Read a row; None for a fixed window and for a row without a mark."""
        mark = self._cell(line, "id") or self._cell(line, "type")
        if not mark:
            return None
        word = _plain(self._cell(line, "hinge"))
        if word in words()["fixed"]:
            self.fixed += self._count(line)
            return None
        fields: dict[str, Stated] = {}
        notes: list[str] = []
        self._sizes(line, fields, notes)
        self._hinge(line, word, fields)
        self._heights(line, fields, notes)
        self._place(line, fields)
        self._functions(line, fields)
        return ScheduledWindow(_as_id(mark), line.number, self.file, fields, self._count(line), tuple(notes))

    def _count(self, line: ScheduleRow) -> int:
        text = self._cell(line, "count")
        if not text:
            return 1
        if not text.isdigit() or not 0 < int(text) <= 5000:
            raise UnreadableSheet(f"{self.file}: row {line.number}: {text[:20]} is no count")
        return int(text)

    def _mm(self, found: Length, line: ScheduleRow) -> float:
        unit = found.unit or self.unit
        if unit is None:
            raise Undecided(f"{self.file}: row {line.number}: no unit is said for {found.number:g}; say it with --unit")
        return Length(found.number, found.unit).in_mm(unit)

    def _sizes(self, line: ScheduleRow, fields: dict[str, Stated], notes: list[str]) -> None:
        for kind, note in (("", None), ("other_", "this is no size of the sash: measure it")):
            for side in ("width", "height"):
                text = self._cell(line, kind + side)
                if f"{side}_mm" in fields or not text:
                    continue
                found = length(text)
                if found is None:
                    self._unread(f"{side}_mm", text, line)
                    continue
                fields[f"{side}_mm"] = Stated(self._mm(found, line), self._origin(line, kind + side))
                notes += [note] if note else []
            two = pair(self._cell(line, kind + "size"))
            if two is not None and not {"width_mm", "height_mm"} & fields.keys():
                order = two.order or self.order or "wh"
                first, second = (self._mm(found, line) for found in (two.first, two.second))
                sides = (first, second) if order == "wh" else (second, first)
                for side, value in zip(("width_mm", "height_mm"), sides, strict=True):
                    fields[side] = Stated(value, self._origin(line, kind + "size"))
                notes += [note] if note else []
            elif two is None and self._cell(line, kind + "size") and not fields:
                self._unread("width_mm", self._cell(line, kind + "size"), line)
        for side in ("width_mm", "height_mm"):
            if side in fields and not 100 <= fields[side].value <= 10_000:
                said = fields.pop(side)
                self._unread(side, f"{said.value:g} mm", line)

    def _hinge(self, line: ScheduleRow, word: str, fields: dict[str, Stated]) -> None:
        if not word:
            return
        if word not in words()["ambiguous"]:
            for hinge, said in words()["hinges"].items():
                if word in said["words"]:
                    origin = self._origin(line, "hinge")
                    fields["hinge"] = Stated(hinge, origin)
                    if "opens" in said:
                        fields["opens"] = Stated(said["opens"], origin)
                    return
        self._unread("hinge", self._cell(line, "hinge"), line)

    def _heights(self, line: ScheduleRow, fields: dict[str, Stated], notes: list[str]) -> None:
        for name, field in (("sill", "sill_mm"), ("drop", "drop_mm")):
            if text := self._cell(line, name):
                found = length(text)
                if found is None:
                    self._unread(field, text, line)
                else:
                    fields[field] = Stated(self._height_mm(found, name, line), self._origin(line, name))
        head = length(self._cell(line, "head")) if self._cell(line, "head") else None
        if "sill_mm" not in fields and head is not None and "height_mm" in fields:
            sill = self._height_mm(head, "head", line) - fields["height_mm"].value
            if sill >= 0:
                fields["sill_mm"] = Stated(round(sill, 3), f"{self._origin(line, 'head')} less the height")
                notes.append("the sill is computed: head less height")

    def _height_mm(self, found: Length, name: str, line: ScheduleRow) -> float:
        """A height from the floor may be 0; its own header's unit comes before that of sizes."""
        unit = found.unit or _unit_of(self.titles[name]) or self.unit
        if unit is None:
            raise Undecided(f"{self.file}: row {line.number}: no unit is said for {found.number:g}; say it with --unit")
        return found.in_mm(unit)

    def _place(self, line: ScheduleRow, fields: dict[str, Stated]) -> None:
        room = self._cell(line, "room") or self.options.room or ""
        origin = self._origin(line, "room") if self._cell(line, "room") else "--room"
        if room:
            fields["room"] = Stated(room, origin)
        if text := self._cell(line, "storey"):
            storey = words()["storeys"].get(_plain(text))
            digits = re.fullmatch(r"(?:level|floor|l)?\s*(-?\d{1,2})", _plain(text))
            value = storey if storey is not None else int(digits[1]) if digits else None
            if value is None:
                self._unread("storey", text, line)
            else:
                fields["storey"] = Stated(value, self._origin(line, "storey"))
        if text := self._cell(line, "facade"):
            plain = _plain(text.replace("°", " ")).removesuffix(" facing").removesuffix(" elevation")
            bearing = words()["compass"].get(plain.replace("-", " "))
            if bearing is None and re.fullmatch(r"\d{1,3}(\.\d+)?", plain) and float(plain) < 360:
                bearing = float(plain)
            if bearing is None:
                self._unread("facade_deg", text, line)
            else:
                fields["facade_deg"] = Stated(bearing, self._origin(line, "facade"))
        if text := self._cell(line, "glass"):
            panes = re.findall(r"\d+(?:\.\d+)?", text) if "/" in text else []
            if len(panes) >= 3 and len(panes) % 2:
                glass = sum(float(pane) for pane in panes[::2])
                fields["glass_mm"] = Stated(glass, f"{self._origin(line, 'glass')}, panes without gaps")
            else:
                self._unread("glass_mm", text, line)

    def _functions(self, line: ScheduleRow, fields: dict[str, Stated]) -> None:
        for name, field in (("escape", "escape"), ("smoke", "smoke_vent")):
            if text := self._cell(line, name):
                plain = _plain(text)
                if plain in words()["yes"] or plain in words()["no"]:
                    fields[field] = Stated(plain in words()["yes"], self._origin(line, name))
                else:
                    self._unread(field, text, line)

    def _unread(self, field: str, text: str, line: ScheduleRow) -> None:
        self.unread.setdefault(field, []).append(f"{text[:40]} (row {line.number})")


def _unit_of(title: str) -> str | None:
    found = _UNIT.search(title)
    if found is None:
        return None
    unit = (found[1] or found[2]).lower()
    return {"inches": "in", '"': "in"}.get(unit, unit)


def _as_id(mark: str) -> str:
    """Make an id of a mark: what no id may hold becomes a dash."""
    made = re.sub(r"[^A-Za-z0-9_.-]+", "-", mark.strip()).strip("-.")
    made = made if made and not made.startswith("x-") else f"W-{made}"
    return made if _ID.fullmatch(made) else f"W-{made}"
