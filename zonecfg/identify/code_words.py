"""Code words over the positions of a window: apart from each other, from all closed and from all open."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, product

from msgspec import Struct

Word = tuple[int, ...]
Seen = Sequence[int | None]
"""A word as it was observed; None where nobody looked."""

_TRIED_LAST = 3


class RoundCode(Struct, frozen=True):
    """Words of one length; ``at_least`` is the shortest length that any such code could have."""

    levels: int
    distance: int
    length: int
    at_least: int
    words: tuple[Word, ...]


def code(count: int, *, levels: int = 2, distance: int = 2) -> RoundCode:
    """Make code words of few letters that move little.

    The word of nothing but zeros and the one of nothing but the highest letter are none of them, and keep the same
    distance to all of them. Words are those of a linear code: a parity check for distance 2, a shortened Hamming code
    for distance 3, whose checks are chosen so that the second of those two words belongs to it wherever it can.

    Parameters
    ----------
    count
        How many words, 0 and more.
    levels
        Letters of the alphabet [-], 2 or 3: 0, 1 and perhaps 2.
    distance
        Letters in which two words differ at least [-], 2 or 3.

    Returns
    -------
    Code
        The words, always the same ones for the same arguments.

    References
    ----------
    MacWilliams and Sloane, The Theory of Error-Correcting Codes, chapter 1: parity checks, the sphere-packing bound,
    Hamming codes.
    """
    length = at_least = shortest(count, levels=levels, distance=distance)
    while len(words := list(_words(length, levels, distance))) < count:
        length += 1
    return RoundCode(levels, distance, length, at_least, tuple(_that_move_little(words, count)))


def shortest(count: int, *, levels: int, distance: int) -> int:
    """Give a length that no code of so many words, and the two that are reserved, can be shorter than.

    Singleton's and the sphere-packing bound; with two letters a word also needs its distance to both reserved ones.
    """
    total, length = count + 2, distance
    if count and levels == 2:
        length = 2 * distance
    ball = (distance - 1) // 2
    while total > levels ** (length - distance + 1) or total * (1 + ball * length * (levels - 1)) > levels**length:
        length += 1
    return length


def travel(word: Sequence[int]) -> int:
    """Steps between letters from closed through the word and back to closed."""
    return sum(abs(b - a) for a, b in zip((0, *word), (*word, 0), strict=True))


def mismatches(seen: Seen, word: Word) -> list[int]:
    """Places in which a word differs from what was seen there."""
    return [place for place, (a, b) in enumerate(zip(seen, word, strict=True)) if a is not None and a != b]


class Decoder:
    """Finds the words that an observed one can be, as far as the distance of the code carries."""

    def __init__(self, words: Sequence[Word], *, levels: int, distance: int) -> None:
        self._at: Mapping[Word, int] = {word: number for number, word in enumerate(words)}
        self._levels, self._distance = levels, distance

    def surely(self, seen: Seen) -> int | None:
        """Give the one word that is meant even if a round more than corrected was misread; None where there is none.

        Without blanks that is what the distance of the code promises. A blank uses it up: then only a word that fits
        exactly is taken, and only where no other one fits but for a single round.
        """
        blanks = [place for place, letter in enumerate(seen) if letter is None]
        if len(blanks) > self._distance:
            return None
        if blanks:
            fitting = {n for word in self._around(seen, blanks, 0) if (n := self._at.get(word)) is not None}
            near = {n for word in self._around(seen, blanks, 1) if (n := self._at.get(word)) is not None}
            return fitting.pop() if len(fitting) == 1 and near == fitting else None
        for misread in range((self._distance - 1) // 2 + 1):
            for word in self._around(seen, blanks, misread):
                if (number := self._at.get(word)) is not None:
                    return number
        return None

    def _around(self, seen: Seen, blanks: list[int], misread: int) -> Iterator[Word]:
        read = [place for place in range(len(seen)) if seen[place] is not None]
        for places in combinations(read, misread):
            free = [*blanks, *places]
            for letters in product(range(self._levels), repeat=len(free)):
                word = list(seen)
                for place, letter in zip(free, letters, strict=True):
                    word[place] = letter
                yield tuple(letter for letter in word if letter is not None)


def _words(length: int, levels: int, distance: int) -> Iterator[Word]:
    """Every word of the code of a length, but for those too near to a reserved one."""
    columns, own = _checks(length, levels, distance)
    top = levels - 1
    for first in product(range(levels), repeat=len(columns)):
        sums = [sum(a * b for a, b in zip(first, row, strict=True)) for row in zip(*columns, strict=True)]
        last = [-total * sign % levels for total, sign in zip(sums, own, strict=True)]
        word = (*first, *last)
        if any(word) and sum(letter != top for letter in word) >= distance:
            yield word


def _checks(length: int, levels: int, distance: int) -> tuple[list[Word], Word]:
    """Columns of the check matrix: of the free letters, and the sign that each check letter has in its own row.

    Any two columns are independent where the distance is 3. The last few are picked so that all columns add up to
    nothing, which makes the word of equal letters one of the code.
    """
    others: list[Word]
    if distance == 2:
        others, rows = [(1,)] * (length - 1), 1
        if levels == 3 and length % 3 == 1:
            others[0] = (2,)
    else:
        rows = 1
        while (levels**rows - 1) // (levels - 1) < length:
            rows += 1
        vectors = product(range(levels), repeat=rows)
        points: list[Word] = [v for v in vectors if sum(map(bool, v)) > 1 and next(filter(None, v)) == 1]
        others = points[: length - rows]
        picked = min(_TRIED_LAST, len(others))
        kept = others[: len(others) - picked]
        for last in combinations(points[len(kept) :], picked):
            for signs in product(range(1, levels), repeat=picked):
                tried = kept + [tuple(s * x % levels for x in p) for s, p in zip(signs, last, strict=True)]
                if (own := _own_signs(tried, rows, levels)) is not None:
                    return tried, own
    return others, _own_signs(others, rows, levels) or (1,) * rows


def _own_signs(others: Sequence[Word], rows: int, levels: int) -> Word | None:
    """Signs of the check letters with which all columns add up to nothing; None where there are none."""
    own = tuple(-sum(column[row] for column in others) % levels for row in range(rows))
    return own if all(own) else None


def _that_move_little(words: list[Word], count: int) -> Iterator[Word]:
    """Take those of least travel; of the last ones that travel alike, some from all over, so that rounds are alike."""
    by_travel: dict[int, list[Word]] = {}
    for word in sorted(words):
        by_travel.setdefault(travel(word), []).append(word)
    left = count
    for _, alike in sorted(by_travel.items()):
        taken = min(left, len(alike))
        yield from (alike[number * len(alike) // taken] for number in range(taken))
        left -= taken
