"""A rehearsed spell of weather as Markdown."""

from collections.abc import Iterator

from zonecfg.report.inert import in_markdown
from zonecfg.report.text_rehearsal import CAUTION, clock, open_in_rain_words
from zonecfg.results.rehearsal import RehearsalOutcome


def lines(outcome: RehearsalOutcome) -> Iterator[str]:
    """Tell a rehearsal."""
    answer = outcome.rehearsal
    yield f"# Rehearsal of {in_markdown(answer.file)}"
    yield ""
    yield from (f"- {in_markdown(words)}" for words in open_in_rain_words(answer.open_in_rain))
    yield from (f"- {in_markdown(note)}" for note in answer.notes)
    yield ""
    yield "| time | what |"
    yield "|---|---|"
    yield from (f"| {clock(event.at_s)} | {in_markdown(event.text)} |" for event in answer.happenings)
    yield ""
    yield in_markdown(CAUTION)
