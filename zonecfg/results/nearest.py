"""The nearest known name to a misspelt one."""

from collections.abc import Iterable


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Give the known name most like ``word``, or None where none is much like it; ties go to the first in order."""
    from difflib import get_close_matches  # noqa: PLC0415  (only where something is misspelt)

    folded = {name.lower().replace("-", "_"): name for name in known}
    close = get_close_matches(word.lower().replace("-", "_"), folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Offer the nearest name as the end of a sentence; empty where there is none."""
    name = nearest(word, known)
    return f"; {name} is the nearest known" if name and name != word else ""
