"""A review of many sites as Markdown: the worst first, then what is found most."""

from collections.abc import Iterator

from zonecfg.report.inert import code_span, in_markdown
from zonecfg.report.markdown_findings import not_checked_lines
from zonecfg.report.text_findings import summary_words
from zonecfg.report.text_portfolio import page_words
from zonecfg.report.text_sites import MOST_CHECKS, open_words
from zonecfg.results.portfolio import PortfolioReview
from zonecfg.results.words import counted


def lines(review: PortfolioReview) -> Iterator[str]:
    """Tell every site in short, those with nothing open folded."""
    portfolio = review.portfolio
    yield f"# {counted(len(portfolio.sites), 'site')}"
    yield ""
    yield in_markdown(summary_words(review.check.summary, review.check.files))
    yield ""
    if portfolio.checks:
        yield "## What is found most"
        yield ""
        for check in portfolio.checks[:MOST_CHECKS]:
            yield f"- {code_span(check.check)}: {check.findings} in {counted(check.sites, 'site')}"
        yield ""
    yield "## Sites, the worst first"
    yield ""
    for tally in portfolio.sites:
        page = portfolio.pages.get(tally.site)
        yield f"<details><summary>{in_markdown(tally.site)}: {open_words(tally.findings)}</summary>"
        yield ""
        if page is not None:
            yield from (f"- {in_markdown(words)}" for words in page_words(page))
        yield ""
        yield "</details>"
        yield ""
    yield from not_checked_lines(review.check.not_checked, "##")
