"""The changes between two states as text, grouped by what they touch."""

from collections.abc import Iterable, Iterator

from zonecfg.report.style import Style
from zonecfg.results.change import CONSEQUENCES, KINDS, Change, Changes, FigureMove
from zonecfg.results.comparison import Comparison
from zonecfg.results.finding import Finding
from zonecfg.results.signs import printable
from zonecfg.results.words import counted, figure, listed

_TOUCHES = {
    "safety": "What touches safety",
    "weather": "What touches rain and wind closing",
    "air": "What touches air",
    "electrical": "What touches power and bus",
    "operation": "What touches operation",
    "record": "What touches the record only",
}
_FOLDED_FROM = 7
_EDGE = "  "


def lines(comparison: Comparison, style: Style) -> Iterator[str]:
    """Tell a comparison."""
    yield from changes_lines(comparison.changes, style)


def changes_lines(answer: Changes, style: Style, *, brief: bool = False) -> Iterator[str]:
    """Tell changes by consequence, then the findings and figures they move.

    ``brief`` leaves out findings, for a page that tells them elsewhere.
    """
    yield from style.wrapped(printable(f"From {_state(answer.before)} to {_state(answer.after)}"))
    if not answer.changes:
        yield "Nothing differs."
        return
    yield from style.wrapped(f"{counts_in_words(answer.changes)}.")
    yield ""
    for consequence in CONSEQUENCES:
        group = [change for change in answer.changes if change.consequence == consequence]
        if group:
            yield style.paint(_TOUCHES[consequence], "strong")
            for line in folded(group):
                yield from style.wrapped(printable(line), _EDGE, _EDGE * 2)
            yield ""
    yield from _figure_lines(answer.figures, style)
    if brief:
        yield from style.wrapped(
            f"Findings: {len(answer.findings.introduced)} introduced, {len(answer.findings.cleared)} cleared."
        )
        return
    yield from _finding_lines("Findings introduced", answer.findings.introduced, style)
    yield from _finding_lines("Findings cleared", answer.findings.cleared, style)


def _state(ref: object) -> str:
    path, state = getattr(ref, "path", ""), getattr(ref, "state", None)
    return f"{path} ({state})" if state and state not in path else path


def counts_in_words(changes: Iterable[Change]) -> str:
    """Write ``2 moved, 1 replaced``."""
    kinds = [change.kind for change in changes]
    return listed([f"{kinds.count(kind)} {kind}" for kind in KINDS if kind in kinds], most=len(KINDS))


def folded(changes: list[Change]) -> Iterator[str]:
    """Give each change its line; many recordings of one kind are told in one."""
    groups: dict[tuple[str, str, str | None], list[Change]] = {}
    for change in changes:
        groups.setdefault((change.kind, change.section, change.field), []).append(change)
    for (kind, section, field), group in groups.items():
        if kind == "recorded" and len(group) >= _FOLDED_FROM:
            what = field or "records"
            yield f"{counted(len(group), 'thing')} in {section}: {what} recorded ({listed(c.id for c in group)})"
        else:
            yield from (change.text for change in group)


def figure_words(move: FigureMove) -> str:
    """Write how one figure moved."""
    for digits in range(3, 8):  # as many as tell the two apart
        before, after = (
            "not known" if value is None else value if isinstance(value, str) else figure(value, digits)
            for value in (move.before, move.after)
        )
        if before != after:
            break
    return f"{move.section}/{move.id}: {move.figure} {after} (was {before})"


def _figure_lines(figures: Iterable[FigureMove], style: Style) -> Iterator[str]:
    listed_figures = list(figures)
    if listed_figures:
        yield style.paint("Figures that move", "strong")
        for move in listed_figures:
            yield from style.wrapped(printable(figure_words(move)), _EDGE, _EDGE * 2)
        yield ""


def _finding_lines(title: str, findings: tuple[Finding, ...], style: Style) -> Iterator[str]:
    if not findings:
        return
    yield style.paint(title, "strong")
    for found in findings:
        place = f"{found.file}:{found.line}" if found.file else "predicted"
        body = style.wrapped(printable(f"{found.message} ({found.check}, {place})"), f"{_EDGE}{found.severity:<8}")
        label = f"{_EDGE}{found.severity:<8}"
        yield style.paint(label, found.severity) + body[0][len(label) :]
        yield from body[1:]
    yield ""
