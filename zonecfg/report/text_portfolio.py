"""A review of many sites as text: each in a few lines, the worst first, then what is found most."""

from collections.abc import Iterator

from zonecfg.report.style import Style
from zonecfg.report.text_changes import counts_in_words
from zonecfg.report.text_findings import not_checked_lines, rule, state_words, summary_words
from zonecfg.report.text_review import files_since_lines
from zonecfg.report.text_sites import sites_lines
from zonecfg.results.portfolio import PortfolioReview
from zonecfg.results.review import ReviewPage
from zonecfg.results.signs import printable
from zonecfg.results.words import counted

_EDGE = "  "


def lines(review: PortfolioReview, style: Style) -> Iterator[str]:
    """Tell every site in short."""
    portfolio = review.portfolio
    for tally in portfolio.sites:
        page = portfolio.pages.get(tally.site)
        if page is None:
            continue
        name = f"{page.site}, {tally.site}" if page.site else tally.site
        yield style.paint(printable(name), "strong")
        for words in page_words(page):
            yield from style.wrapped(printable(words), _EDGE, _EDGE * 2)
        if page.against is not None:
            yield from files_since_lines(page.against, style)
        yield ""
    yield from rule(style)
    yield from sites_lines(portfolio.sites, portfolio.checks, style)
    yield ""
    yield from rule(style)
    yield from style.wrapped(summary_words(review.check.summary, review.check.files))
    yield "Each by itself, with its findings and decisions: zonecfg review SITE"
    yield from not_checked_lines(review.check.not_checked, style)


def page_words(page: ReviewPage) -> Iterator[str]:
    """Say in a few sentences what a page tells."""
    yield from (state_words(file, page.check.findings) for file in page.check.files)
    if page.compare is not None:
        yield f"from plan to site: {counts_in_words(page.compare.changes) or 'no difference'}"
    if page.against is not None and page.against.files:
        new = len(page.against.introduced)
        yield (
            f"since {page.against.revision}: {counted(len(page.against.files), 'file')} changed, "
            f"{counted(new, 'new finding')}"
        )
    if not page.check.files:
        yield "nothing of it is left"
    if page.decisions:
        yield f"to be decided: {counted(len(page.decisions), 'question')}"
