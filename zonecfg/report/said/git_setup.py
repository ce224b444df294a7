"""What git needs so that it compares and merges plans by what they say."""

import shlex

from zonecfg.report.blocks import Verbatim
from zonecfg.results.words import counted


def to_do(lines: tuple[str, ...], missing: tuple[str, ...], settings: list[tuple[str, str, str | None]]) -> Verbatim:
    """Say what to put where, with what is there already.

    Parameters
    ----------
    lines, missing
        Lines of ``.gitattributes``, and those of them that are not there.
    settings
        Name, value, and what stands there now.
    """
    told = [f".gitattributes, which is committed ({_standing(len(lines) - len(missing), len(lines))}):"]
    told += [f"  {line}" for line in lines]
    there = sum(value == stands for _, value, stands in settings)
    told += ["", f"This clone, since git takes no commands from a repository ({_standing(there, len(settings))}):"]
    told += [f"  git config {name} {shlex.quote(value)}" for name, value, _ in settings]
    told += ["", "--write does both."]
    return Verbatim(tuple(told))


def done(missing: tuple[str, ...], settings: list[tuple[str, str, str | None]]) -> Verbatim:
    """Say what was done; ``settings`` are those that were set."""
    told = [f"Added to .gitattributes ({counted(len(missing), 'line')}); commit it:"] if missing else []
    told += [f"  {line}" for line in missing]
    told += [f"Set in this clone ({counted(len(settings), 'setting')}):"] if settings else []
    for name, value, stands in settings:
        told.append(f"  {name} = {value}" + (f" (was {stands})" if stands else ""))
    return Verbatim(tuple(told or ["Nothing to do: all of it stands there already."]))


def _standing(there: int, of: int) -> str:
    return "all there" if there == of else f"{there} of {of} there" if there else "none there yet"
