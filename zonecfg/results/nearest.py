"""The nearest known name to a misspelt one, sought for so long and no longer."""

from collections.abc import Iterable
from functools import lru_cache

_MOST = 300_000
"""Names that misspelt ones are held against for one file: a few seconds. Beyond, none is offered, and none denied."""

_left = _MOST


def seek_anew() -> None:
    """Begin with another file: what is offered in it does not hang on the files before."""
    global _left  # noqa: PLW0603  (one budget a process; each file begins with all of it)
    _left = _MOST


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Give the known name most like ``word``, or None where none is much like it; ties go to the first in order.

    None too where so many were sought in this file already that it would take too long.
    """
    global _left  # noqa: PLW0603
    names = tuple(known)
    _left -= len(names)
    if _left < 0 or len(word) > 200:
        return None
    return _nearest(word, names)


@lru_cache(1024)
def _nearest(word: str, known: tuple[str, ...]) -> str | None:
    from difflib import get_close_matches  # noqa: PLC0415  (only where something is misspelt)

    folded = {name.lower().replace("-", "_"): name for name in known}
    close = get_close_matches(word.lower().replace("-", "_"), folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Offer the nearest name as the end of a sentence; empty where there is none."""
    name = nearest(word, known)
    return f"; {name} is the nearest known" if name and name != word else ""
