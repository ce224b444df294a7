"""A rehearsed spell of weather: what happened when, a timeline, and what stayed open in the rain."""

from collections.abc import Iterator, Sequence
from functools import partial

from zonecfg.report.blocks import Block, Gist, Moment, Moments, Paragraph, Picture, Title, items
from zonecfg.results.rehearsal import OpenInRain, Rehearsal, RehearsalOutcome, position_at
from zonecfg.results.words import figure, listed

_HEIGHTS = " ▁▂▃▄▅▆▇█"
_MOST = 60
_CAUTION = (
    "A rehearsal shows what the plan says, not what the plant does: wet the sensors and watch the windows. Smoke vents "
    "follow the fire strategy."
)


def blocks(outcome: RehearsalOutcome) -> Iterator[Block]:
    """Tell a rehearsal."""
    answer = outcome.rehearsal
    yield Title(f"Rehearsal of {answer.file}")
    yield Moments(tuple(Moment(clock(event.at_s), event.text) for event in answer.happenings), _MOST)
    if any(answer.positions.values()) and answer.ends_s > 0:
        yield Picture(partial(_timeline, answer))
    yield Gist(tuple(map(Paragraph, _open_in_rain(answer.open_in_rain))))
    yield items([*_summary(answer), *(f"{note[0].upper()}{note[1:]}." for note in answer.notes)])
    yield Paragraph(_CAUTION)


def clock(seconds: float) -> str:
    """Write a moment as minutes and seconds, with hours where there are some."""
    whole = round(seconds)
    hours, rest = divmod(whole, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"


def _timeline(answer: Rehearsal, columns: int) -> list[str]:
    """Draw a row a group, as high as it stands open; above them the spells of weather."""
    groups = {group: marks for group, marks in answer.positions.items() if marks}
    label = min(max(len(name) for name in (*groups, *(s.sensor for s in answer.spells))), 24)
    width = columns - label - 3
    moments = [answer.ends_s * (i + 0.5) / width for i in range(width)]
    rows = []
    for sensor in dict.fromkeys(s.sensor for s in answer.spells):
        mine = [s for s in answer.spells if s.sensor == sensor]
        row = "".join(
            ("░" if any(s.kind == "rain" for s in mine) else "≈")
            if any(s.start_s <= t < s.end_s for s in mine)
            else " "
            for t in moments
        )
        rows.append((sensor, row))
    for group, marks in groups.items():
        rows.append((group, "".join(_HEIGHTS[_height(position_at(marks, t))] for t in moments)))
    drawn = [f"{name[:label]:>{label}} │{row}".rstrip() for name, row in rows]
    return [*drawn, f"{'':>{label}} 0:00{clock(answer.ends_s):>{width - 3}}"]


def _height(percent: float) -> int:
    return 0 if percent <= 0.05 else 1 + min(int(percent / 100 * 7.999), 7)


def _summary(answer: Rehearsal) -> Iterator[str]:
    if answer.settled_s is None:
        yield "No window closed."
    else:
        yield f"The last window that closed had stopped at {clock(answer.settled_s)}."
    for peak in answer.peaks:
        if peak.current_a is None:
            yield f"{peak.supply}: no current computed; {peak.because}."
        else:
            at = f" at {clock(peak.at_s)}" if peak.at_s is not None else ", nothing moving"
            yield f"{peak.supply} gave at most {figure(peak.current_a)} A{at}."
    if answer.lowest is not None:
        low = answer.lowest
        yield f"Lowest voltage: {figure(low.voltage_v)} V at {low.actuator}, {clock(low.at_s)}."


def _open_in_rain(entries: Sequence[OpenInRain]) -> Iterator[str]:
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
