"""A review of many sites as Markdown: the worst first, then what is found most."""

from collections.abc import Iterator

from zonecfg.report.inert import code_span, in_markdown
from zonecfg.report.markdown_findings import finding_item, not_checked_lines
from zonecfg.report.markdown_review import files_since
from zonecfg.report.text_findings import summary_words
from zonecfg.report.text_portfolio import page_words
from zonecfg.report.text_sites import MOST_CHECKS, open_words
from zonecfg.results.portfolio import PortfolioReview
from zonecfg.results.words import counted


def lines(review: PortfolioReview) -> Iterator[str]:
    """Tell what changed where, then every site, folded, the worst first."""
    portfolio = review.portfolio
    yield f"# {counted(len(portfolio.sites), 'site')}"
    yield ""
    yield in_markdown(summary_words(review.check.summary, review.check.files))
    yield ""
    yield from _changed(review)
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
            for found in page.check.findings:
                if found.accepted is None:
                    yield from finding_item(found, review.lines)
        yield ""
        yield "</details>"
        yield ""
    yield from not_checked_lines(review.check.not_checked, "##")


def _changed(review: PortfolioReview) -> Iterator[str]:
    sides = {site: page.against for site, page in review.portfolio.pages.items() if page.against is not None}
    if not sides:
        return
    first = next(iter(sides.values()))
    yield f"## Since {in_markdown(first.revision)} ({first.commit})"
    yield ""
    if not any(since.files for since in sides.values()):
        yield "Nothing differs."
        yield ""
    for since in sides.values():
        yield from files_since(since, review.lines)
