"""Which computed figures differ between two states of a site by more than rounding."""

from collections.abc import Iterator, Mapping
from math import isclose

from msgspec import UnsetType

from zonecfg.figures import Figures
from zonecfg.results.change import FigureMove
from zonecfg.results.figure import SECTIONS

ROUNDING = 1e-6
"""Relative difference up to which two figures count as the same."""


def figure_moves(before: Figures, after: Figures, renames: Mapping[str, Mapping[str, str]]) -> tuple[FigureMove, ...]:
    """Compare the figures of all things that both states have.

    Parameters
    ----------
    before, after
        Figures of the two states.
    renames
        By section, the new id of each thing that is called otherwise in the second state.

    Returns
    -------
    tuple of FigureMove
        In the order of sections, of things in the second state, and of figures; under the new id.
    """
    return tuple(move for section in SECTIONS for move in _of_section(section, before, after, renames.get(section, {})))


def _of_section(section: str, before: Figures, after: Figures, renamed: Mapping[str, str]) -> Iterator[FigureMove]:
    first = {renamed.get(key, key): figure for key, figure in getattr(before.printed, section).items()}
    for key, new in getattr(after.printed, section).items():
        old = first.get(key)
        if old is None or old == new:
            continue
        for name in new.__struct_fields__:
            one, other = _known(getattr(old, name)), _known(getattr(new, name))
            if not _same(one, other):
                yield FigureMove(section=section, id=key, figure=name, before=one, after=other)


def _known(value: float | str | UnsetType | None) -> float | str | None:
    if value is None or isinstance(value, str | UnsetType):
        return value if isinstance(value, str) else None
    return float(value)


def _same(one: float | str | None, other: float | str | None) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=ROUNDING, abs_tol=1e-12)
    return one == other
