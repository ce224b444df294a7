"""A review of many sites: each in a few lines, the worst first, then what is found most."""

from collections.abc import Iterator

from zonecfg.report.blocks import Block, Code, Fold, Gist, Paragraph, Rule, Title, items
from zonecfg.report.said.changes import counts_in_words
from zonecfg.report.said.findings import fault, not_checked, state_words, summary_words
from zonecfg.report.said.review import files_since
from zonecfg.report.said.sites import open_words, sites_blocks
from zonecfg.results.portfolio import PortfolioReview
from zonecfg.results.review import ReviewPage
from zonecfg.results.tally import SiteTally
from zonecfg.results.words import counted


def blocks(review: PortfolioReview) -> Iterator[Block]:
    """Tell every site in short; on a page its findings are folded behind it."""
    portfolio = review.portfolio
    yield Title(counted(len(portfolio.sites), "site"))
    for tally in portfolio.sites:
        page = portfolio.pages.get(tally.site)
        if page is not None:
            yield _site(tally, page, review)
    yield Rule()
    yield Gist((*sites_blocks(portfolio.sites, portfolio.checks), Rule()))
    yield Gist((Paragraph(summary_words(review.check.summary, review.check.files)),))
    yield Paragraph(("Each by itself, with its findings and decisions: ", Code("zonecfg review SITE")))
    yield from not_checked(review.check.not_checked)


def _site(tally: SiteTally, page: ReviewPage, review: PortfolioReview) -> Fold:
    changed = page.against.files if page.against is not None else ()
    return Fold(
        title=f"{page.site}, {tally.site}" if page.site else tally.site,
        gist=open_words(tally.findings),
        blocks=(
            items(list(_page(page))),
            *([files_since(changed)] if changed else []),
        ),
        more=tuple(fault(found, review.lines) for found in page.check.findings if found.accepted is None),
        open=bool(changed),
    )


def _page(page: ReviewPage) -> Iterator[str]:
    """Say in a few sentences what a page tells."""
    yield from (state_words(file, page.check.findings) for file in page.check.files)
    if page.compare is not None:
        yield f"from plan to site: {counts_in_words(page.compare.changes) or 'no difference'}"
    if page.against is not None and page.against.files:
        new = len(page.against.introduced)
        yield (
            f"since {page.against.revision}: {counted(len(page.against.files), 'file')} changed, "
            f"{counted(new, 'new finding')}" + (f", {len(page.against.worse)} worse" if page.against.worse else "")
        )
    if not page.check.files:
        yield "nothing of it is left"
    if page.decisions:
        yield f"to be decided: {counted(len(page.decisions), 'question')}"
