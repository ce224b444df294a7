"""A rehearsed spell of weather as text: what happened when, a timeline, and what stayed open in the rain."""

from collections.abc import Iterator, Sequence

from zonecfg.report.style import Style
from zonecfg.results.rehearsal import OpenInRain, Position, Rehearsal, RehearsalOutcome
from zonecfg.results.signs import printable
from zonecfg.results.words import figure, listed

_EDGE = "  "
_HEIGHTS = " ▁▂▃▄▅▆▇█"
_MOST = 60
CAUTION = (
    "A rehearsal shows what the plan says, not what the plant does: wet the sensors and watch the windows. Smoke vents "
    "follow the fire strategy."
)


def lines(outcome: RehearsalOutcome, style: Style) -> Iterator[str]:
    """Tell a rehearsal."""
    answer = outcome.rehearsal
    yield style.paint(printable(answer.file), "strong")
    yield ""
    shown = answer.happenings[:_MOST]
    for event in shown:
        yield from style.wrapped(printable(event.text), f"{clock(event.at_s):>9}  ")
    if len(answer.happenings) > len(shown):
        yield f"{'':9}  and {len(answer.happenings) - len(shown)} more; json tells all"
    yield ""
    yield from _timeline(answer, style)
    yield from _summary(answer, style)
    for note in answer.notes:
        yield from style.wrapped(printable(f"{note[0].upper()}{note[1:]}."))
    yield ""
    yield from style.wrapped(CAUTION)


def clock(seconds: float) -> str:
    """Write a moment as minutes and seconds, with hours where there are some."""
    whole = round(seconds)
    hours, rest = divmod(whole, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"


def position_at(positions: Sequence[Position], now: float) -> float:
    """How far a group stands open at a moment [percent]: between two marks it moves evenly."""
    before = positions[0]
    for mark in positions:
        if mark.at_s > now:
            if mark.at_s == before.at_s:
                return mark.open_percent
            share = (now - before.at_s) / (mark.at_s - before.at_s)
            return before.open_percent + share * (mark.open_percent - before.open_percent)
        before = mark
    return before.open_percent


def _timeline(answer: Rehearsal, style: Style) -> Iterator[str]:
    """A row a group, as high as it stands open; above them the spells of weather."""
    groups = {group: marks for group, marks in answer.positions.items() if marks}
    if not groups or answer.ends_s <= 0:
        return
    label = min(max(len(name) for name in (*groups, *(s.sensor for s in answer.spells))), 24)
    width = style.width - label - 3
    moments = [answer.ends_s * (i + 0.5) / width for i in range(width)]
    for sensor in dict.fromkeys(s.sensor for s in answer.spells):
        mine = [s for s in answer.spells if s.sensor == sensor]
        row = "".join(
            ("░" if any(s.kind == "rain" for s in mine) else "≈")
            if any(s.start_s <= t < s.end_s for s in mine)
            else " "
            for t in moments
        )
        yield f"{printable(sensor)[:label]:>{label}} │{row}".rstrip()
    for group, marks in groups.items():
        row = "".join(_HEIGHTS[_height(position_at(marks, t))] for t in moments)
        yield f"{printable(group)[:label]:>{label}} │{row}".rstrip()
    end = clock(answer.ends_s)
    yield f"{'':>{label}} 0:00{end:>{width - 3}}"
    yield ""


def _height(percent: float) -> int:
    return 0 if percent <= 0.05 else 1 + min(int(percent / 100 * 7.999), 7)


def _summary(answer: Rehearsal, style: Style) -> Iterator[str]:
    if answer.settled_s is None:
        yield "No window closed."
    else:
        yield from style.wrapped(f"The last window that closed had stopped at {clock(answer.settled_s)}.")
    for peak in answer.peaks:
        if peak.current_a is None:
            yield from style.wrapped(f"{peak.supply}: no current computed; {peak.because}.")
        else:
            at = f" at {clock(peak.at_s)}" if peak.at_s is not None else ", nothing moving"
            yield from style.wrapped(f"{peak.supply} gave at most {figure(peak.current_a)} A{at}.")
    if answer.lowest is not None:
        low = answer.lowest
        yield from style.wrapped(f"Lowest voltage: {figure(low.voltage_v)} V at {low.actuator}, {clock(low.at_s)}.")
    for words in open_in_rain_words(answer.open_in_rain):
        yield from style.wrapped(printable(words))


def open_in_rain_words(entries: Sequence[OpenInRain]) -> Iterator[str]:
    """Say which windows stood open when a spell of rain ended, those of one reason together."""
    if not entries:
        yield "No unsheltered window stood open at the end of rain."
        return
    reasons: dict[tuple[float, str], list[OpenInRain]] = {}
    for entry in entries:
        reasons.setdefault((entry.at_s, entry.because), []).append(entry)
    for (at_s, because), held in reasons.items():
        widest = max(entry.open_percent for entry in held)
        names = listed((entry.opening for entry in held), most=8)
        stands = "stands" if len(held) == 1 else "stand"
        yield f"At the end of rain ({clock(at_s)}) {names} {stands} up to {figure(widest)} % open: {because}."
