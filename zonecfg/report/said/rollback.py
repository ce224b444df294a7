"""The ways back: the ranking first, then each way with its losses and steps."""

from collections.abc import Iterator, Sequence

from zonecfg.report.blocks import Block, Heading, Item, Items, Paragraph, Rule, Table, Title, Warned, items
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
    if outcome.only is not None:
        yield from _work_order(answer.now, in_order(answer)[outcome.only - 1])
        return
    yield Title(f"Ways from {answer.now}")
    yield _table(in_order(answer), answer.ranking)
    yield ranking(answer.ranking, [way.name for way in in_order(answer)])
    for way in in_order(answer):
        yield from _way(way)
    yield Heading("A person decides. Questions to ask first")
    yield items(list(answer.questions))
    yield Paragraph(_CAUTION)


def _table(ways: Sequence[Way], ranks: Sequence[Rank]) -> Table:
    """Lay the ways side by side: what stands when each is done, who is out in the rain, what is lost, how long."""
    headings = (
        ("errors left", ""),
        ("out in the rain", ""),
        ("lost", ""),
        ("worst on the way", "actuators"),
        ("takes", "min"),
        ("way", ""),
    )
    rows = tuple(
        (
            str(rank.place),
            str(sum(standing.severity == "error" for standing in way.standing)),
            listed(way.uncovered_openings, most=4) or "no window",
            str(len(way.lost)),
            str(way.exposure.at_worst),
            f"{way.minutes:.0f}",
            way.name.replace(way.target, way.target.rpartition("/")[2]),
        )
        for rank, way in zip(ranks, ways, strict=True)
    )
    return Table("", headings, rows)


def _work_order(now: str, way: Way) -> Iterator[Block]:
    """Give one way alone, to be taken along: what to know first, boxes to tick, what to test again, who signs."""
    yield Title(f"Work order: {way.name} ({now})")
    yield Paragraph(_CAUTION)
    yield from map(Warned, way.first)
    if way.warnings:
        yield items(list(way.warnings))
    yield _steps(way)
    yield Items(tuple(_test(test) for test in way.retest), "To be tested again", steps=True)
    if way.uncovered_openings:
        yield Warned(f"Without rain closing when done: {listed(way.uncovered_openings, most=10_000)}.")
    yield items(["done by, date:", "seen by, date:", "taken over by, date:"], "Signatures")


def _steps(way: Way) -> Items:
    steps = (
        Item(f"{step.text} ({step.uncovered})", (Item(f"mind: {step.caution}"),) if step.caution else ())
        for step in way.steps
    )
    return Items(tuple(steps), "Steps (actuators without rain closing after each)", steps=True)


def _test(test: Retest) -> Item:
    return Item(f"{_TESTS[test.test]} {test.id}: {test.because}")


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
    yield from _figures(way)
    yield _steps(way)
    yield from _search(way)
    yield from _retest(way.retest)
    yield Paragraph(
        f"Roughly {way.minutes:.0f} minutes. Without rain closing: {way.exposure.now} now, {way.exposure.at_worst} at "
        f"worst, {way.exposure.after} when done."
    )


def _figures(way: Way) -> Iterator[Block]:
    """Tell the figures that a finding hangs on; the rest is counted, and stands in JSON."""
    touched = {f.about for f in (*way.findings.introduced, *way.findings.cleared)}
    told = [move for move in way.figures if f"{move.section}/{move.id}" in touched]
    if told:
        yield items([figure_words(move) for move in told], "Figures that cross a limit")
    if rest := len(way.figures) - len(told):
        stay = "stays" if rest == 1 else "stay"
        yield Paragraph(f"{counted(rest, 'figure moves', 'figures move')} and {stay} within limits.")


def _search(way: Way) -> Iterator[Block]:
    search = way.search
    if search is None or not search.operations:
        return
    quality = f": {search.proven}" if search.proven else "; that no other order is better is not proven"
    yield Paragraph(f"Order of {counted(search.operations, 'change')}: {search.method}{quality}.")


def _retest(tests: Sequence[Retest]) -> Iterator[Block]:
    kinds = {words: [test.id for test in tests if test.test == kind] for kind, words in _TESTS.items()}
    told = tuple(Item(f"{words}: {listed(ids, most=12)}") for words, ids in kinds.items() if ids)
    if told:
        yield Items(told, "To be tested again")
