"""What became of a thing: commit by commit, the latest first."""

from collections.abc import Iterator

from zonecfg.report.blocks import Block, Heading, Items, Paragraph, Title, items
from zonecfg.report.said.changes import folded
from zonecfg.results.history import Event, History
from zonecfg.results.words import counted, listed


def blocks(answer: History) -> Iterator[Block]:
    """Tell every commit that changed it."""
    about = f"{answer.about} in " if answer.about else ""
    yield Title(f"History of {about}{answer.file}")
    if len(answer.names) > 1:
        yield Paragraph(f"It was called {listed(answer.names)}.")
    for event in answer.events:
        yield Heading(_when(event))
        yield _what(event)
    looked = counted(answer.commits, "commit")
    yield Paragraph(
        f"{counted(len(answer.events), 'change')} in {looked}." if answer.events else f"Nothing in {looked}."
    )


def _when(event: Event) -> str:
    commit = event.commit
    return f"{commit.date[:10]} {commit.id[:10]} {commit.author}: {commit.subject}"


def _what(event: Event) -> Items:
    return items([event.because] if event.because else list(folded(event.changes)))
