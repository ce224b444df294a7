"""The ways back as Markdown, each with its steps as a checklist a person can tick."""

from collections.abc import Iterator

from zonecfg.report.inert import code_span, in_markdown
from zonecfg.report.text_changes import folded
from zonecfg.report.text_rollback import CAUTION, STAYS, rank_words
from zonecfg.results.way import RollbackOutcome, Way, in_order


def lines(outcome: RollbackOutcome) -> Iterator[str]:
    """Tell every way back, the best placed first."""
    answer = outcome.ways
    names = {(way.way, way.target): way.name for way in answer.ways}
    yield f"# Ways from {in_markdown(answer.now)}"
    yield ""
    for rank in answer.ranking:
        yield f"{rank.place}. {in_markdown(rank_words(rank, names[rank.way, rank.target]))}"
    yield ""
    yield "**A person decides.** Questions to ask first:"
    yield ""
    yield from (f"- {in_markdown(question)}" for question in answer.questions)
    yield ""
    for way in in_order(answer):
        yield from _way(way)
    yield in_markdown(CAUTION)


def _way(way: Way) -> Iterator[str]:
    yield f"## {in_markdown(way.name[0].upper() + way.name[1:])}"
    yield ""
    for words in way.first:
        yield f"> **{in_markdown(words)}**"
        yield ""
    yield from (f"- {in_markdown(words)}" for words in way.warnings)
    if way.warnings:
        yield ""
    for title, changes in (("Lost", way.lost), ("Returns or changes", way.returns), (STAYS, way.stays)):
        if changes:
            yield f"**{title}**"
            yield ""
            yield from (f"- {in_markdown(line)}" for line in folded(list(changes)))
            yield ""
    if way.also_returns:
        yield from (f"- {in_markdown(also.text)}" for also in way.also_returns)
        yield ""
    for title, findings in (("brings", way.findings.introduced), ("clears", way.findings.cleared)):
        if findings:
            yield f"**Findings it {title}**"
            yield ""
            for found in findings:
                yield f"- **{found.severity}** {in_markdown(found.message)} ({code_span(found.check)})"
            yield ""
    yield "**Steps**"
    yield ""
    for step in way.steps:
        yield f"- [ ] {in_markdown(step.text)} (without rain closing: {step.uncovered})"
    for test in way.retest:
        yield f"- [ ] {in_markdown(f'{test.test} {test.id}: {test.because}')}"
    yield ""
    yield f"Roughly {way.minutes:.0f} minutes."
    yield ""
