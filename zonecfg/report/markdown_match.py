"""What was found on the bus, as Markdown."""

from collections.abc import Iterator

from zonecfg.report.inert import in_markdown
from zonecfg.report.text_match import said
from zonecfg.results.matched import Matched


def lines(answer: Matched) -> Iterator[str]:
    """Tell counts, then what is missing and strange, then what is proposed."""
    for indent, words in said(answer):
        if indent == 0:
            yield ""
            yield f"**{in_markdown(words)}**"
            yield ""
        else:
            yield f"- {in_markdown(words)}"
