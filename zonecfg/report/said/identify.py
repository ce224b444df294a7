"""Rounds of opening, and what was seen in them."""

from collections.abc import Iterable, Iterator

from zonecfg.report.blocks import Block
from zonecfg.report.said.outline import outlined
from zonecfg.results.identified import AtWindow, Identified, Round, Start
from zonecfg.results.words import counted, figure, listed


def blocks(answer: Identified) -> Iterator[Block]:
    """Tell it in lists under their headings."""
    return outlined(_said(answer))


def _said(answer: Identified) -> Iterator[tuple[int, str]]:
    """Give headings (0), lines (1) and what belongs to them (2)."""
    yield 0, f"{answer.found} against {answer.plan}"
    serials = sum(len(unit.serials) for unit in answer.units)
    units = f" in {counted(len(answer.units), 'unit')}" if serials != len(answer.units) else ""
    yield 1, f"{counted(serials, 'unknown serial')}{units}, {counted(len(answer.windows), 'window')}"
    for placed in answer.by_set:
        which = f" as {placed.actuator}" if placed.actuator else "; the label says which of its actuators it is"
        yield 1, f"{placed.serial} is at {placed.opening}{which}: one of its set is known"
    if answer.aside:
        yield 1, f"by type, of those that must not move: {listed(answer.aside)}"
    if answer.first:
        yield 0, "Nothing moves before this is known"
        for first in answer.first:
            yield 1, first.because
            yield 2, f"To find out: {first.how}."
    if answer.seen is not None:
        yield from _seen(answer)
    elif answer.rounds:
        yield from _plan(answer)
    if answer.remarks:
        yield 0, "Remarks"
        yield from ((1, remark) for remark in answer.remarks)


def _plan(answer: Identified) -> Iterator[tuple[int, str]]:
    yield 0, "Before and during the rounds"
    yield from ((1, caution) for caution in answer.cautions)
    able = "one misread report a window is corrected" if answer.distance > 2 else "one misread report is detected"
    more = len(answer.rounds) > answer.rounds_at_least
    bound = f"; no code of its kind has fewer than {answer.rounds_at_least}" if more else ""
    yield 0, f"{counted(len(answer.rounds), 'round')}: {able}{bound}"
    if answer.minutes is not None and answer.minutes_one_by_one is not None:
        about = counted(round(answer.minutes), "minute")
        yield 1, f"about {about}; one by one about {round(answer.minutes_one_by_one)}"
    names = {unit.unit: " + ".join(unit.serials) for unit in answer.units}
    for number, one in enumerate(answer.rounds, start=1):
        yield from _round(f"Round {number}", one, names)
    if answer.closing is not None:
        yield from _round("At the end", answer.closing, names)


def _round(title: str, one: Round, names: dict[int, str]) -> Iterator[tuple[int, str]]:
    still = f", all stopped after {figure(one.still_after_s, 4)} s" if one.still_after_s else ""
    rest = f", after {figure(one.rest_s, 4)} s of rest" if one.rest_s else ""
    yield 1, f"{title}{rest}{still}{'' if one.starts else ': nothing moves'}"
    for start in one.starts:
        at = "when all has stopped" if start.at_s is None else f"at {figure(start.at_s, 4)} s"
        yield 2, f"{at}: {'; '.join(_moves(start, names))}"


def _moves(start: Start, names: dict[int, str]) -> Iterator[str]:
    for verb, units in (("close", start.closed), ("half open", start.part), ("open", start.open)):
        if units:
            yield f"{verb} {', '.join(names[unit] for unit in units)}"


def _seen(answer: Identified) -> Iterator[tuple[int, str]]:
    seen = answer.seen
    if seen is None:
        return
    for result, title in (("named", "Named"), ("ambiguous", "Ambiguous"), ("impossible", "Impossible")):
        windows = [window for window in seen.windows if window.result == result]
        if windows:
            yield 0, f"{title}: {counted(len(windows), 'window')}"
        for window in windows:
            yield from _window(window)
    if seen.unplaced:
        yield 0, f"At no window: {listed(_joined(seen.unplaced), 12)}"
    if seen.repeat:
        yield 0, f"Repeat {_numbers(seen.repeat)}, and note it over what stands in the sheet"


def _window(window: AtWindow) -> Iterator[tuple[int, str]]:
    if window.result == "named":
        which = listed((f"{serial} is {actuator}" for actuator, serial in window.actuators.items()), 12)
        yield 1, f"{window.opening}: {which or ' + '.join(window.serials)}"
        if window.misread or len(window.actuators) < len(window.serials) or None in window.seen:
            yield 2, window.because
    else:
        yield 1, f"{window.opening}: {window.because}"
        if window.candidates:
            yield 2, f"nearest: {listed(_joined(window.candidates))}"
        if window.repeat:
            yield 2, f"repeat {_numbers(window.repeat)}"
    yield from ((2, words) for words in window.differs)


def _joined(units: Iterable[tuple[str, ...]]) -> Iterator[str]:
    return (" + ".join(serials) for serials in units)


def _numbers(rounds: tuple[int, ...]) -> str:
    return f"{'round' if len(rounds) == 1 else 'rounds'} {listed(map(str, rounds), 20)}"
