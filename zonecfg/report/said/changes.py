"""The changes between two states, grouped by what they touch, then the findings and figures they move."""

from collections.abc import Iterable, Iterator

from zonecfg.report.blocks import Block, Code, Fold, Heading, Item, Items, Paragraph, items
from zonecfg.report.said.findings import in_short
from zonecfg.results.change import CONSEQUENCES, KINDS, Change, Changes, FigureMove, Grown
from zonecfg.results.comparison import Comparison
from zonecfg.results.finding import SEVERITIES
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


def blocks(comparison: Comparison) -> Iterator[Block]:
    """Tell a comparison."""
    yield from changes_blocks(comparison.changes)


def changes_blocks(answer: Changes, *, brief: bool = False) -> Iterator[Block]:
    """Tell changes by consequence, then the findings and figures they move.

    ``brief`` leaves out findings, for a page that tells them elsewhere.
    """
    yield Heading(f"From {_state(answer.before)} to {_state(answer.after)}")
    if not answer.changes:
        yield Paragraph("Nothing differs.")
        return
    yield Paragraph(f"{counts_in_words(answer.changes)}.")
    for consequence in CONSEQUENCES:
        group = [change for change in answer.changes if change.consequence == consequence]
        if group and consequence == "record":
            yield Fold(title=_TOUCHES[consequence], gist=str(len(group)), blocks=(items(list(folded(group))),))
        elif group:
            yield items(list(folded(group)), _TOUCHES[consequence])
    if answer.figures:
        moves = items([figure_words(move) for move in answer.figures])
        yield Fold(title="Figures that move", gist=str(len(answer.figures)), blocks=(moves,))
    found = answer.findings
    if brief:
        worse = f", {len(found.worse)} worse" if found.worse else ""
        yield Paragraph(f"Findings: {len(found.introduced)} introduced{worse}, {len(found.cleared)} cleared.")
        return
    if found.worse:
        grown = (Item((f"{grown_words(more)} (", Code(more.check), ")")) for more in found.worse)
        yield Items(tuple(grown), "Findings that got worse")
    for title, findings in (("Findings introduced", found.introduced), ("Findings cleared", found.cleared)):
        if findings:
            yield Items(tuple(map(in_short, findings)), title)


def grown_words(more: Grown) -> str:
    """Say in a few words how a finding got worse."""
    before, after = more.before, more.after
    words = []
    if SEVERITIES.index(after.severity) < SEVERITIES.index(before.severity):
        words.append(f"{before.severity} became {after.severity}")
    if added := sorted(set(after.subjects) - set(before.subjects)):
        words.append(f"{listed(added, most=6)} came to it")
    if not words and None not in (before.figure, after.figure):
        words.append(f"{before.figure:.4g} became {after.figure:.4g}")
    return f"{after.severity}: {more.about}: {listed(words)}"


def _state(ref: object) -> str:
    path, state = getattr(ref, "path", ""), getattr(ref, "state", None)
    return f"{path} ({state})" if state and state not in path else path


def counts_in_words(changes: Iterable[Change]) -> str:
    """Write ``2 moved, 1 replaced``."""
    kinds = [change.kind for change in changes]
    return listed([f"{kinds.count(kind)} {kind}" for kind in KINDS if kind in kinds], most=len(KINDS))


def folded(changes: Iterable[Change]) -> Iterator[str]:
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
