"""The ways back as text: the ranking first, then each way with its losses and steps."""

from collections.abc import Iterator, Sequence

from zonecfg.report.style import Style
from zonecfg.report.text_changes import figure_words, folded
from zonecfg.results.signs import printable
from zonecfg.results.way import Rank, Retest, RollbackOutcome, Way, in_order
from zonecfg.results.words import counted, listed

_EDGE = "  "
CAUTION = (
    "Isolate the supply before any connection, keep hands clear of a moving sash, and follow local rules for work at "
    "height. Smoke vents and escape windows follow the fire strategy; a fire command outranks rain. This supports, and "
    "does not replace, local codes and licensed practice."
)
STAYS = "Does not return: no setting brings this back"
_TESTS = {
    "calibrate": "calibrate",
    "walk-test": "walk test",
    "measure-gap": "measure the gap",
    "wet-test": "wet",
}


def lines(outcome: RollbackOutcome, style: Style) -> Iterator[str]:
    """Tell every way back, the best placed first."""
    answer = outcome.ways
    yield style.paint(printable(f"Ways from {answer.now}"), "strong")
    yield ""
    yield from ranking_lines(answer.ranking, [way.name for way in in_order(answer)], style)
    yield ""
    for way in in_order(answer):
        yield from _way(way, style)
    yield style.paint("A person decides. Questions to ask first", "strong")
    for question in answer.questions:
        yield from style.wrapped(question, f"{_EDGE}")
    yield ""
    yield from style.wrapped(CAUTION)


def ranking_lines(ranking: Sequence[Rank], names: Sequence[str], style: Style) -> Iterator[str]:
    """Tell ranks, a way an entry."""
    for rank, name in zip(ranking, names, strict=True):
        yield from style.wrapped(printable(rank_words(rank, name)), f"{rank.place:>3}. ", "     ")


def rank_words(rank: Rank, name: str) -> str:
    """Say a way's place and why; a tie is said."""
    same = f". These measures cannot tell it from: {listed(rank.equal_to)}" if rank.equal_to else ""
    return f"{name[0].upper()}{name[1:]}: {rank.reason}{same}."


def _way(way: Way, style: Style) -> Iterator[str]:
    yield style.paint("─" * min(style.width, 80), "faint")
    yield style.paint(printable(f"{way.name[0].upper()}{way.name[1:]}"), "strong")
    for words in way.first:
        yield from style.wrapped(printable(words), style.paint("! ", "error") if style.colour else "! ", _EDGE)
    for words in way.warnings:
        yield from style.wrapped(printable(words), _EDGE, _EDGE)
    yield ""
    for title, changes in (("Lost", way.lost), ("Returns or changes", way.returns), (STAYS, way.stays)):
        if changes:
            yield title
            for line in folded(list(changes)):
                yield from style.wrapped(printable(line), _EDGE, _EDGE * 2)
    for also in way.also_returns:
        yield from style.wrapped(printable(also.text), _EDGE, _EDGE * 2)
    for title, findings in (
        ("Findings it brings", way.findings.introduced),
        ("Findings it clears", way.findings.cleared),
    ):
        if findings:
            yield title
            for found in findings:
                yield from style.wrapped(printable(f"{found.message} ({found.check})"), f"{_EDGE}{found.severity:<8}")
    if way.figures:
        yield "Figures that move"
        for move in way.figures:
            yield from style.wrapped(printable(figure_words(move)), _EDGE, _EDGE * 2)
    yield "Steps (without rain closing after each)"
    for number, step in enumerate(way.steps, 1):
        yield from style.wrapped(printable(f"{step.text} ({step.uncovered})"), f"{number:>4}. ")
    yield from _search(way, style)
    yield from _retest(way.retest, style)
    yield from style.wrapped(
        f"Roughly {way.minutes:.0f} minutes. Without rain closing: {way.exposure.now} now, {way.exposure.at_worst} at "
        f"worst, {way.exposure.after} when done."
    )
    yield ""


def _search(way: Way, style: Style) -> Iterator[str]:
    search = way.search
    if search is None or not search.moving_sashes:
        return
    gap = search.sum_over_moves - search.lower_bound
    quality = "the best order there is" if search.exact else f"at most {gap} above the best, summed over the moves"
    yield from style.wrapped(
        f"Order of {counted(search.moving_sashes, 'moving sash', 'moving sashes')}: {search.method}; {quality}.",
        _EDGE,
        _EDGE,
    )


def _retest(tests: Sequence[Retest], style: Style) -> Iterator[str]:
    if not tests:
        return
    yield "To be tested again"
    for kind, words in _TESTS.items():
        ids = [test.id for test in tests if test.test == kind]
        if ids:
            yield from style.wrapped(printable(f"{words}: {listed(ids, most=12)}"), _EDGE, _EDGE * 2)
