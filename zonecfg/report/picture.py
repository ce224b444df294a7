"""A rehearsal as an SVG picture: positions over time, a row a group, the rain shaded and named where it falls."""

from collections.abc import Iterator
from textwrap import wrap
from xml.sax.saxutils import escape

from zonecfg.report.said.rehearsal import clock
from zonecfg.results.rehearsal import Position, Rehearsal, RehearsalOutcome
from zonecfg.results.signs import printable

_LEFT, _RIGHT, _TOP, _ROW, _GAP, _PLOT = 190, 24, 64, 34, 12, 720
_LETTER = 8.2
"""Width to keep free for a letter at 12 pixels: few sans-serif fonts set words wider than two thirds of the size."""
_NAME = 17
"""Letters of a row's name on a line; three lines of them fit a row."""


def picture(outcome: RehearsalOutcome) -> str:
    """Draw a rehearsal; it needs no legend."""
    answer = outcome.rehearsal
    groups = {group: marks for group, marks in answer.positions.items() if marks}
    height = _TOP + len(groups) * (_ROW + _GAP) + 40
    width = _LEFT + _PLOT + _RIGHT
    end = max(answer.ends_s, max((s.end_s for s in answer.spells), default=0.0), 60.0)
    body = [
        *_weather(answer, end, height),
        *(
            line
            for row, (group, marks) in enumerate(groups.items())
            for line in _group(outcome.names.get(group, group), marks, row, end)
        ),
        *_fire(answer, end, height),
        *_axis(end, height),
    ]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" '
        'font-family="sans-serif" font-size="12" fill="#222">'
    )
    title = f"<title>{_text(f'Windows of {answer.file} in rehearsed weather')}</title>"
    ground = f'<rect width="{width}" height="{height}" fill="#fff"/>'
    return "\n".join([head, title, ground, *body, "</svg>", ""])


def _text(words: str) -> str:
    return escape(printable(words))


def _x(at_s: float, end: float) -> float:
    return round(_LEFT + _PLOT * at_s / end, 1)


def _weather(answer: Rehearsal, end: float, height: int) -> Iterator[str]:
    for number, spell in enumerate(answer.spells):
        left, right = _x(spell.start_s, end), _x(spell.end_s, end)
        fill = "#9cc4e4" if spell.kind == "rain" else "#d9cfa6"
        name = "rain" if spell.kind == "rain" else "strong wind"
        yield (
            f'<rect x="{left}" y="{_TOP - 6}" width="{round(right - left, 1)}" height="{height - _TOP - 28}" '
            f'fill="{fill}" fill-opacity="0.45"/>'
        )
        yield _beside(left, 16 + 13 * (number % 3), f"{name} at {spell.sensor}")


def _fire(answer: Rehearsal, end: float, height: int) -> Iterator[str]:
    for event in answer.happenings:
        if event.what == "fire":
            x = _x(event.at_s, end)
            line = f'x1="{x}" y1="{_TOP - 10}" x2="{x}" y2="{height - 34}"'
            yield f'<line {line} stroke="#b3261e" stroke-dasharray="4 3"/>'
            yield _beside(x + 4, _TOP - 12, "fire command", ' fill="#b3261e"')


def _beside(x: float, y: float, words: str, more: str = "") -> str:
    """Write words at a place, further left where the right edge would cut them; what fits nowhere is cut."""
    most = int((_LEFT + _PLOT + _RIGHT) / _LETTER) - 1
    shown = printable(words if len(words) <= most else f"{words[: most - 1]}…")
    wide = len(shown) * _LETTER
    x = max(min(x, _LEFT + _PLOT + _RIGHT - wide), 0.0)
    return f'<text x="{round(x, 1)}" y="{y}"{more}>{escape(shown)}</text>'


def _group(name: str, marks: tuple[Position, ...], row: int, end: float) -> Iterator[str]:
    base = _TOP + row * (_ROW + _GAP) + _ROW
    points = [(mark.at_s, mark.open_percent) for mark in marks]
    points.append((end, points[-1][1]))
    path = " ".join(f"{_x(at, end)},{round(base - _ROW * percent / 100, 1)}" for at, percent in points)
    lines = wrap(printable(name), _NAME, max_lines=3, placeholder="…") or [""]
    for number, line in enumerate(lines):
        y = base - 11 + 13 * (number - (len(lines) - 1) / 2)
        yield f'<text x="{_LEFT - 46}" y="{round(y, 1)}" text-anchor="end">{escape(line)}</text>'
    yield f'<text x="{_LEFT - 6}" y="{base - _ROW + 9}" text-anchor="end" font-size="9" fill="#666">open</text>'
    yield f'<text x="{_LEFT - 6}" y="{base}" text-anchor="end" font-size="9" fill="#666">closed</text>'
    yield f'<polygon points="{_LEFT},{base} {path} {_x(end, end)},{base}" fill="#e8a33d" fill-opacity="0.5"/>'
    yield f'<polyline points="{path}" fill="none" stroke="#a35f00" stroke-width="1.6"/>'
    yield f'<line x1="{_LEFT}" y1="{base}" x2="{_LEFT + _PLOT}" y2="{base}" stroke="#888" stroke-width="0.6"/>'


def _axis(end: float, height: int) -> Iterator[str]:
    step = next((s for s in (10, 30, 60, 120, 300, 600, 1800, 3600, 7200, 14400, 43200) if end / s <= 12), 86400)
    at = 0.0
    while at <= end + 1e-9:
        x = _x(at, end)
        yield f'<line x1="{x}" y1="{height - 34}" x2="{x}" y2="{height - 28}" stroke="#444"/>'
        yield f'<text x="{x}" y="{height - 14}" text-anchor="middle">{clock(at)}</text>'
        at += step
