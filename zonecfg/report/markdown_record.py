"""What ``record`` says, as Markdown."""

from collections.abc import Iterator

from zonecfg.report.inert import in_markdown
from zonecfg.report.text_record import said
from zonecfg.results.recorded import Recorded


def lines(recorded: Recorded) -> Iterator[str]:
    """Tell what was taken, then lists of what contradicts, what is different, and what is blank."""
    for indent, words in said(recorded):
        yield f"- {in_markdown(words)}" if indent else in_markdown(words)
        if not indent and words:
            yield ""
