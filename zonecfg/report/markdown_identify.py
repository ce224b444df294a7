"""Rounds of opening, and what was seen in them, as Markdown."""

from collections.abc import Iterator

from zonecfg.report.inert import in_markdown
from zonecfg.report.text_identify import said
from zonecfg.results.identified import Identified


def lines(answer: Identified) -> Iterator[str]:
    """Tell what comes first, the rounds and their time, then what was seen."""
    for indent, words in said(answer):
        if indent == 0:
            yield ""
            yield f"**{in_markdown(words)}**"
            yield ""
        else:
            yield f"{'  ' * (indent - 1)}- {in_markdown(words)}"
