"""The rounds: who moves when, within what supplies and controllers bear, and how long all of it takes."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from zonecfg.identify.code_words import RoundCode, Word
from zonecfg.identify.limits import Together, UnitLimits
from zonecfg.identify.units import Parting, Unit
from zonecfg.results.identified import LETTERS, Round, Start

LOOK_S = 5.0
"""Time to look at a window and note it [s]: common practice, walking from one to the next included."""


class Course(Struct, frozen=True, kw_only=True):
    """All rounds, the closing at the end, and the minutes of it against moving one by one."""

    rounds: tuple[Round, ...]
    closing: Round
    minutes: float | None
    minutes_one_by_one: float | None


def course(parting: Parting, code: RoundCode, limits: UnitLimits) -> Course:
    """Give the rounds.

    Units of a round are set moving in starts, each when those before have stopped. A unit that may move only a share of
    the time rests after each movement for as long as that asks.

    Parameters
    ----------
    parting
        Who takes part.
    code
        A word a unit.
    limits
        What may move at one time, and how long it takes.
    """
    words = {unit.number: word for unit, word in zip(parting.units, code.words, strict=True)}
    pace = _Pace(parting.units, limits, code.levels)
    rounds = []
    for place in range(code.length):
        rounds.append(pace.round({number: word[place] for number, word in words.items()}))
        pace.clock += LOOK_S * len(parting.windows)
    closing = pace.round(dict.fromkeys(words, 0))
    known = pace.known
    return Course(
        rounds=tuple(rounds),
        closing=closing,
        minutes=(pace.clock + LOOK_S * len(parting.windows)) / 60 if known else None,
        minutes_one_by_one=_one_by_one(parting, limits) / 60 if known else None,
    )


def spread(units: Sequence[Unit], words: Sequence[Word]) -> tuple[Word, ...]:
    """Give the units their words, so that like words go to different controllers: those move side by side."""
    count: Counter[str | None] = Counter()
    turn = []
    for place, unit in enumerate(units):
        turn.append((count[unit.controller], unit.controller or "", place))
        count[unit.controller] += 1
    given = {place: word for (_, _, place), word in zip(sorted(turn), words, strict=True)}
    return tuple(given[place] for place in range(len(units)))


class _Pace:
    """The clock, where each unit stands, and when it may move again."""

    def __init__(self, units: Sequence[Unit], limits: UnitLimits, levels: int) -> None:
        traits = limits.traits
        self._limits, self._levels = limits, levels
        self._order = sorted(units, key=lambda u: (-(traits[u.number].whole_s or 0.0), u.number))
        self._stands = {u.number: 0 for u in units}
        self._ready = {u.number: 0.0 for u in units}
        self.clock = 0.0
        self.known = all(traits[u.number].whole_s is not None for u in units)

    def round(self, letters: Mapping[int, int]) -> Round:
        """Move every unit to its letter."""
        movers = [u for u in self._order if letters[u.number] != self._stands[u.number]]
        rest = max((self._ready[u.number] - self.clock for u in movers), default=0.0)
        rest = _whole(rest)
        self.clock += rest
        begun, starts = self.clock, []
        for together in _gathered(movers, self._limits):
            at = self.clock - begun
            to: dict[str, list[int]] = {}
            longest = 0.0
            for unit in sorted(together.units, key=lambda u: u.number):
                to.setdefault(LETTERS[self._levels][letters[unit.number]], []).append(unit.number)
                longest = max(longest, self._move(unit, letters[unit.number]))
            starts.append(Start(at_s=at if self.known else None, **{name: tuple(ids) for name, ids in to.items()}))
            self.clock += _whole(longest)
        still = self.clock - begun
        return Round(
            rest_s=rest if self.known else None,
            starts=tuple(starts),
            still_after_s=still if self.known else None,
        )

    def _move(self, unit: Unit, letter: int) -> float:
        """Move a unit now, and say how long it takes [s]."""
        traits = self._limits.traits[unit.number]
        taken = (traits.whole_s or 0.0) * abs(letter - self._stands[unit.number]) / (self._levels - 1)
        self._ready[unit.number] = self.clock + taken / traits.duty
        self._stands[unit.number] = letter
        return taken


def _whole(seconds: float) -> float:
    """Round up to a whole second, so that what is printed and followed by a watch keeps every limit."""
    return float(max(math.ceil(seconds - 1e-9), 0))


def _gathered(movers: Sequence[Unit], limits: UnitLimits) -> Iterator[Together]:
    """Put movers together, each where there is room first."""
    found: list[Together] = []
    for unit in movers:
        if not any(together.take(unit) for together in found):
            together = Together(limits)
            together.take(unit)
            found.append(together)
    yield from found


def _one_by_one(parting: Parting, limits: UnitLimits) -> float:
    """Time of opening and closing one unit after the other [s], looking at half of the windows that are left."""
    left, total = len(parting.windows), 0.0
    for unit in parting.units:
        total += 2 * (limits.traits[unit.number].whole_s or 0.0) + LOOK_S * (left + 1) / 2
        left -= 1
    return total
