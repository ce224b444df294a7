"""A filled observer sheet decoded: which serials are at which window, and which rounds must be seen again."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal

from msgspec import Struct

from zonecfg.identify.code_words import Decoder, Word, mismatches
from zonecfg.identify.code_words import Seen as Letters
from zonecfg.identify.resolve_first import Window
from zonecfg.identify.units import Unit, which
from zonecfg.model.site import Site
from zonecfg.results.identified import LETTERS, AtWindow, Position, Seen
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.words import listed
from zonecfg.sheets.columns import Form
from zonecfg.sheets.raw import RawSheet, refuse
from zonecfg.sheets.values import value_of


class Coded(Struct, frozen=True, kw_only=True):
    """Units with their words, and the windows they may be at."""

    site: Site
    controllers: Mapping[str, str]
    """Controller of each actuator."""
    units: Sequence[Unit]
    windows: Sequence[Window]
    words: Sequence[Word]
    levels: int
    distance: int
    length: int


def reported(raw: RawSheet, form: Form, windows: Sequence[Window], levels: int) -> dict[str, tuple[int | None, ...]]:
    """Take what was noted at each window; a window without a row was not looked at.

    Raises
    ------
    UnreadableSheet
        A window is none of the plan's or stands twice, or a cell holds what is no position.
    """
    columns, known = form.tables["windows"].to_fill, {w.opening for w in windows}
    found: dict[str, tuple[int | None, ...]] = {}
    first: dict[str, str] = {}
    faults: list[str] = []
    for row in raw.rows:
        if row.section != "windows":
            continue
        if row.thing not in known:
            what = f"{row.thing[:60]} is no window of this sheet" if row.thing else "names no window"
            faults.append(f"{row.where}: {what}{did_you_mean(row.thing, known)}")
            continue
        if row.thing in first:
            faults.append(f"{row.where}: {row.thing} stands in {first[row.thing]} already")
            continue
        first[row.thing] = row.where
        letters: list[int | None] = []
        for column in columns:
            cell = row.cells.get(column.key)
            letter = None
            if cell is not None:
                try:
                    letter = LETTERS[levels].index(str(value_of(cell.value, column)))
                except ValueError as error:
                    faults.append(f"{cell.where}: {error}")
            letters.append(letter)
        found[row.thing] = tuple(letters)
    refuse(raw.file, faults)
    blank = (None,) * len(columns)
    return {w.opening: found.get(w.opening, blank) for w in windows}


def decoded(coded: Coded, noted: Mapping[str, Letters], sheet: str) -> Seen:
    """Say what each window's report means.

    A serial is named only where one misread more than the code corrects would still show; a blank uses that up, unless
    all other words are far enough away without it. Windows whose reports mean the same unit are all ambiguous.
    """
    reserved = [(letter,) * coded.length for letter in (0, coded.levels - 1)]
    words = [*coded.words, *reserved]
    decoder = Decoder(words, levels=coded.levels, distance=coded.distance)
    sure = {opening: decoder.surely(letters) for opening, letters in noted.items()}
    times = Counter(number for number in sure.values() if number is not None)
    units = len(coded.words)
    taken = {number for number, count in times.items() if count == 1 and number < units}
    teller = _Teller(coded, words, taken)
    found = []
    for window in coded.windows:
        letters, number = noted[window.opening], sure[window.opening]
        if number is None:
            found.append(teller.unsure(window, letters))
        elif number >= units:
            found.append(teller.never(window, letters, number))
        elif times[number] == 1:
            found.append(teller.named(window, letters, number))
        else:
            others = [opening for opening, same in sure.items() if same == number and opening != window.opening]
            found.append(teller.doubled(window, letters, number, others))
    unplaced = tuple(u.serials for number, u in enumerate(coded.units) if number not in taken)
    repeat = tuple(sorted({number for window in found for number in window.repeat}))
    return Seen(sheet=sheet, windows=tuple(found), unplaced=unplaced, repeat=repeat)


class _Teller:
    """Puts the result of one window into words."""

    def __init__(self, coded: Coded, words: Sequence[Word], taken: set[int]) -> None:
        self._coded, self._words, self._taken = coded, words, taken

    def named(self, window: Window, letters: Letters, number: int) -> AtWindow:
        """Tell of a window whose serials are certain."""
        unit, site = self._coded.units[number], self._coded.site
        misread = [place + 1 for place in mismatches(letters, self._coded.words[number])]
        blank = [place + 1 for place, letter in enumerate(letters) if letter is None]
        pairs = which(site, unit.members, window.actuators)
        notes = [f"{_rounds(misread)} misread, corrected"] if misread else []
        notes += [f"{_rounds(blank)} blank"] if blank else []
        if any(actuator is None for _, actuator in pairs) and len(unit.members) == len(window.actuators):
            notes.append(f"the labels say which is which of {listed(window.actuators)}")
        return AtWindow(
            opening=window.opening,
            seen=self._seen(letters),
            result="named",
            serials=unit.serials,
            actuators={actuator: f.serial for f, actuator in pairs if actuator is not None},
            because="; ".join(notes) or "its reports are the word of these serials",
            differs=tuple(_differs(self._coded, unit, window)),
            misread=tuple(misread),
        )

    def doubled(self, window: Window, letters: Letters, number: int, others: Iterable[str]) -> AtWindow:
        """Tell of a window that is reported as another one is."""
        serials = self._coded.units[number].serials
        return AtWindow(
            opening=window.opening,
            seen=self._seen(letters),
            result="ambiguous",
            because=f"{listed(others)} and {window.opening} are both reported as {' + '.join(serials)} moves",
            candidates=(serials,),
            repeat=self._repeat(letters, self._open(letters, besides=number)),
        )

    def never(self, window: Window, letters: Letters, number: int) -> AtWindow:
        """Tell of a window that never moved, or stood open always."""
        misread = [place + 1 for place in mismatches(letters, self._words[number])]
        because = (
            "closed in every round: its actuator is dead, has no power, or is not on the bus"
            if self._words[number][0] == 0
            else "open in every round: it is stuck, or was opened by hand"
        )
        because += f"; {_rounds(misread)} misread, corrected" if misread else ""
        return AtWindow(
            opening=window.opening,
            seen=self._seen(letters),
            result="impossible",
            because=because,
            misread=tuple(misread),
        )

    def unsure(self, window: Window, letters: Letters) -> AtWindow:
        """Tell of a window whose report is too far from every word, or has too many blanks."""
        blank, units = [place + 1 for place, letter in enumerate(letters) if letter is None], len(self._coded.units)
        nearest = self._open(letters) if len(blank) < len(letters) else []
        result: Literal["ambiguous", "impossible"] = "impossible"
        repeat = self._repeat(letters, nearest)
        if not nearest:
            result, because = "ambiguous", "nobody noted where it stood"
        elif blank and not mismatches(letters, self._words[nearest[0]]):
            result, repeat = "ambiguous", tuple(blank)
            because = f"{_rounds(blank)} blank: without {'it' if len(blank) == 1 else 'them'} a misread would not show"
        elif self._coded.distance > 2 and not blank:
            because = "no serial has this word, nor one that differs from it in a single round: two or more are misread"
        else:
            because = "no serial has this word: a round is misread"
        return AtWindow(
            opening=window.opening,
            seen=self._seen(letters),
            result=result,
            because=because,
            candidates=tuple(self._coded.units[number].serials for number in nearest if number < units),
            repeat=repeat,
        )

    def _open(self, letters: Letters, besides: int | None = None) -> list[int]:
        """Words with the fewest misreads that no other window has for sure; dead and stuck are always among them."""
        left = [number for number in range(len(self._words)) if number not in self._taken and number != besides]
        apart = {number: len(mismatches(letters, self._words[number])) for number in left}
        least = min(apart.values())
        return [number for number, places in apart.items() if places == least]

    def _repeat(self, letters: Letters, nearest: Iterable[int]) -> tuple[int, ...]:
        """Rounds in which the nearest words differ from the report, and the blank ones."""
        places = {place for number in nearest for place in mismatches(letters, self._words[number])}
        places |= {place for place, letter in enumerate(letters) if letter is None}
        return tuple(place + 1 for place in sorted(places))

    def _seen(self, letters: Letters) -> tuple[Position | None, ...]:
        names = LETTERS[self._coded.levels]
        return tuple(None if letter is None else names[letter] for letter in letters)


def _rounds(numbers: Sequence[int]) -> str:
    return f"{'round' if len(numbers) == 1 else 'rounds'} {listed(map(str, numbers))}"


def _differs(coded: Coded, unit: Unit, window: Window) -> Iterator[str]:
    types = {coded.site.actuators[a].type for a in window.actuators}
    homes = {coded.controllers[a] for a in window.actuators if a in coded.controllers}
    for f in unit.members:
        if f.controller is not None and homes and f.controller not in homes:
            yield f"{f.serial} was found on {f.controller}, planned on {listed(sorted(homes))}"
        if f.type is not None and None not in types and f.type not in types:
            yield f"{f.serial} was found as {f.type}, planned as {listed(sorted(str(t) for t in types))}"
    if len(unit.members) != len(window.actuators):
        move = "serial moves" if len(unit.members) == 1 else "serials move"
        yield f"{len(unit.members)} {move} it; the plan has {len(window.actuators)} without one there"
