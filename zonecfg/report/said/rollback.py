"""The ways back: the ranking first, then each way with its losses and steps."""

from collections.abc import Iterator, Sequence

from zonecfg.report.blocks import Block, Heading, Item, Items, Paragraph, Rule, Title, Warned, items
from zonecfg.report.said.changes import figure_words, folded
from zonecfg.report.said.findings import in_short
from zonecfg.results.way import Rank, Retest, RollbackOutcome, Way, in_order
from zonecfg.results.words import counted, listed

_CAUTION = (
    "Isolate the supply before any connection, keep hands clear of a moving sash, and follow local rules for work at "
    "height. Smoke vents and escape windows follow the fire strategy; a fire command outranks rain. This supports, and "
    "does not replace, local codes and licensed practice."
)
_STAYS = "Does not return: no setting brings this back"
_TESTS = {
    "calibrate": "calibrate",
    "walk-test": "walk test",
    "measure-gap": "measure the gap",
    "wet-test": "wet",
}


def blocks(outcome: RollbackOutcome) -> Iterator[Block]:
    """Tell every way back, the best placed first."""
    answer = outcome.ways
    yield Title(f"Ways from {answer.now}")
    yield ranking(answer.ranking, [way.name for way in in_order(answer)])
    for way in in_order(answer):
        yield from _way(way)
    yield Heading("A person decides. Questions to ask first")
    yield items(list(answer.questions))
    yield Paragraph(_CAUTION)


def ranking(ranks: Sequence[Rank], names: Sequence[str]) -> Items:
    """Tell ranks, a way an entry; a tie is said."""
    return Items(
        tuple(Item(_rank(rank, name)) for rank, name in zip(ranks, names, strict=True)),
        numbered=True,
    )


def _rank(rank: Rank, name: str) -> str:
    same = f". These measures cannot tell it from: {listed(rank.equal_to)}" if rank.equal_to else ""
    return f"{name[0].upper()}{name[1:]}: {rank.reason}{same}."


def _way(way: Way) -> Iterator[Block]:
    yield Rule()
    yield Heading(f"{way.name[0].upper()}{way.name[1:]}")
    yield from map(Warned, way.first)
    if way.warnings:
        yield items(list(way.warnings))
    for title, changes in (("Lost", way.lost), ("Returns or changes", way.returns), (_STAYS, way.stays)):
        if changes:
            yield items(list(folded(changes)), title)
    if way.also_returns:
        yield items([also.text for also in way.also_returns])
    for title, findings in (
        ("Findings it brings", way.findings.introduced),
        ("Findings it clears", way.findings.cleared),
    ):
        if findings:
            yield Items(tuple(map(in_short, findings)), title)
    if way.figures:
        yield items([figure_words(move) for move in way.figures], "Figures that move")
    steps = tuple(Item(f"{step.text} ({step.uncovered})") for step in way.steps)
    yield Items(steps, "Steps (without rain closing after each)", steps=True)
    yield from _search(way)
    yield from _retest(way.retest)
    yield Paragraph(
        f"Roughly {way.minutes:.0f} minutes. Without rain closing: {way.exposure.now} now, {way.exposure.at_worst} at "
        f"worst, {way.exposure.after} when done."
    )


def _search(way: Way) -> Iterator[Block]:
    search = way.search
    if search is None or not search.moving_sashes:
        return
    gap = search.sum_over_moves - search.lower_bound
    quality = "the best order there is" if search.exact else f"at most {gap} above the best, summed over the moves"
    yield Paragraph(
        f"Order of {counted(search.moving_sashes, 'moving sash', 'moving sashes')}: {search.method}; {quality}."
    )


def _retest(tests: Sequence[Retest]) -> Iterator[Block]:
    kinds = {words: [test.id for test in tests if test.test == kind] for kind, words in _TESTS.items()}
    told = tuple(Item(f"{words}: {listed(ids, most=12)}") for words, ids in kinds.items() if ids)
    if told:
        yield Items(told, "To be tested again")
