"""Every way back, what each would lose, and the steps in a safe order."""

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

import msgspec
from msgspec import structs

from zonecfg.checks.registry import entries
from zonecfg.checks.runner import judge
from zonecfg.errors import CannotRead, UnreadableSite
from zonecfg.figures import Figures
from zonecfg.figures.moves import figure_moves
from zonecfg.model.site import Site
from zonecfg.results.change import FindingsMoved
from zonecfg.results.finding import Finding
from zonecfg.results.way import RollbackOutcome, Standing, Ways
from zonecfg.results.words import counted
from zonecfg.rollback.ranking import questions, ranked
from zonecfg.rollback.targets import Copy
from zonecfg.rollback.ways import Judge, Predicted, ways
from zonecfg.workflow.check import Checked, check_state, helps
from zonecfg.workflow.compare import findings_moved
from zonecfg.workflow.load import Loader, State
from zonecfg.workflow.plan import state_named


def rollback(
    now: Path,
    to: Sequence[Path],
    today: date,
    *,
    design: Path | None = None,
    minutes: Path | None = None,
    way: int | None = None,
) -> RollbackOutcome:
    """Weigh every way back.

    Parameters
    ----------
    now
        The as-commissioned file: what stands.
    to
        Saved copies.
    today
        The day that acceptances are judged by.
    design
        The as-designed file, for going there by hand.
    minutes
        JSON with rough minutes of each kind of step and test, in place of those built in.
    way
        The place in the list, from 1, of the way that is told alone.

    Raises
    ------
    CannotRead
        A path cannot be opened or is no site file, or a copy or the design is of another site; or no way is listed at
        that place.
    UnreadableSite
        A file has faults of reading, so that what it says is not known.
    """
    loader = Loader()
    stands = _read(loader, now, saved=False)
    copies = [(path, _read(loader, path, saved=True)) for path in to]
    plan = _read(loader, design, saved=False) if design else None
    answer = rollback_states(
        check_state(stands, today),
        [state for _, state in copies],
        plan,
        today,
        minutes=_minutes(minutes),
    )
    if way is not None and not 1 <= way <= len(answer.ways.ways):
        raise CannotRead(f"there is no way {way}: {counted(len(answer.ways.ways), 'way')} are listed")
    return structs.replace(answer, only=way)


def rollback_states(
    now: Checked,
    copies: Sequence[State],
    design: State | None,
    today: date,
    *,
    minutes: Mapping[str, float] | None = None,
) -> RollbackOutcome:
    """Weigh every way back from states that were read."""
    site = _site(now.state)
    for copy in copies:
        _belongs(copy, now.state)
    if design is not None:
        _same_site(design, now.state, "a plan")
    laid_out = ways(
        site,
        [Copy(copy.file, _site(copy)) for copy in copies],
        Copy(design.file, _site(design)) if design else None,
        _judge_against(now, today),
        _minutes(None) if minutes is None else minutes,
    )
    answer = Ways(now=now.state.file, ways=tuple(laid_out), ranking=tuple(ranked(laid_out)), questions=questions(site))
    told = [f for way in laid_out for f in (*way.findings.introduced, *way.findings.cleared)]
    return RollbackOutcome(ways=answer, help=helps(told))


def _judge_against(now: Checked, today: date) -> Judge:
    families, present = entries(), now.figures
    stands = [
        f for f in now.findings if families[f.check].family not in ("reading", "house")
    ]  # a predicted site is not read

    def judged(site: Site | None) -> Predicted:
        if site is None:
            return Predicted(FindingsMoved(), (), _standing(stands))
        figures = Figures(site)
        predicted = judge(figures, file=None, places=None, today=today)
        moved = findings_moved(stands, predicted.findings, {})
        moves = () if present is None else figure_moves(present, figures, {})
        return Predicted(moved, moves, _standing(predicted.findings))

    return judged


def _standing(findings: Iterable[Finding]) -> tuple[Standing, ...]:
    """Say what is open, what it touches, and how grave it is."""
    families = entries()
    return tuple(
        Standing(
            check=f.check,
            about=f.about,
            severity=f.severity,
            consequence=families[f.check].touches,
            message=f.message,
        )
        for f in findings
        if f.accepted is None
    )


def _site(state: State) -> Site:
    if state.site is None:
        raise UnreadableSite(f"{state.file} could not be read")
    return state.site


def _read(loader: Loader, path: Path, *, saved: bool) -> State:
    state = state_named(path, loader)
    is_saved = _site(state).state == "saved"
    if is_saved != saved:
        wanted = "a saved copy (state: saved)" if saved else "an as-commissioned or as-designed file"
        raise CannotRead(f"{path.as_posix()} is {_site(state).state}; {wanted} is needed here")
    return state


def _belongs(copy: State, now: State) -> None:
    """Refuse a copy of another site, or one whose serials nobody knows."""
    _same_site(copy, now, "a copy")
    theirs, ours = _site(copy), _site(now)
    serials = {a.serial for a in theirs.actuators.values() if a.serial is not None}
    here = {a.serial for a in ours.actuators.values() if a.serial is not None}
    if serials and here and not serials & here:
        raise CannotRead(f"{copy.file}: none of its {len(serials)} serials is on the site; it would bring nothing back")
    named = set(theirs.saved.controllers) if theirs.saved else set()
    if named and not named & set(ours.controllers):
        raise CannotRead(f"{copy.file} was saved from {', '.join(sorted(named))}, which {now.file} does not have")


def _same_site(other: State, now: State, what: str) -> None:
    for field in ("reference", "name"):
        a, b = getattr(_site(other).info, field), getattr(_site(now).info, field)
        if a is not None and b is not None and a != b:
            raise CannotRead(f"{other.file} is {what} of {a}, and {now.file} is {b}: not the same site")
        if a is not None and b is not None:
            break


def _minutes(path: Path | None) -> Mapping[str, float]:
    built_in: dict[str, float] = msgspec.json.decode(
        files("zonecfg.rollback").joinpath("minutes.json").read_bytes(), type=dict[str, float]
    )
    if path is None:
        return built_in
    try:
        own: Any = msgspec.json.decode(path.read_bytes(), type=dict[str, float])
    except (OSError, msgspec.MsgspecError) as error:
        raise CannotRead(f"{path.as_posix()}: minutes are one JSON object of names and numbers ({error})") from None
    if unknown := sorted(own.keys() - built_in.keys()):
        raise CannotRead(f"{path.as_posix()}: {unknown[0]} is no kind of step; there are {', '.join(built_in)}")
    if wrong := [name for name, value in own.items() if not 0 <= value < math.inf]:
        raise CannotRead(f"{path.as_posix()}: {wrong[0]} takes {own[wrong[0]]:g} minutes; 0 is the least")
    return {**built_in, **own}
