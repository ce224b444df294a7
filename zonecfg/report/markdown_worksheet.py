"""What ``worksheet`` says once it has written, as Markdown."""

from collections.abc import Iterator

from zonecfg.report.inert import in_markdown
from zonecfg.report.text_worksheet import said
from zonecfg.results.written import Written


def lines(written: Written) -> Iterator[str]:
    """Name the file and count its rows."""
    yield in_markdown(said(written))
