"""The figures of a site as Markdown tables."""

from collections.abc import Iterator

from zonecfg.report.inert import in_markdown
from zonecfg.report.text_explain import FOOTING
from zonecfg.report.text_figures import tables
from zonecfg.results.figure import FiguresPage
from zonecfg.results.words import listed


def lines(page: FiguresPage) -> Iterator[str]:
    """Tell the figures of a site, then what they rest on and what could not be computed."""
    yield f"## Figures of {in_markdown(page.path)}"
    yield ""
    for table in tables(page):
        yield f"### {table.title}"
        yield ""
        heads = ["id", *(f"{head}, {unit}" if unit else head for head, unit in table.headings)]
        yield f"| {' | '.join(heads)} |"
        yield f"| --- |{' ---: |' * len(table.headings)}"
        for row in table.rows:
            yield f"| {' | '.join(in_markdown(cell) for cell in row)} |"
        yield ""
    yield from (f"- {in_markdown(remark)}" for remark in page.remarks)
    yield ""
    if page.not_computed:
        yield "### Not computed"
        yield ""
        for entry in page.not_computed:
            about = f" ({listed(entry.ids, most=8)})" if entry.ids else ""
            yield f"- {in_markdown(entry.because + about)}"
        yield ""
    yield FOOTING
