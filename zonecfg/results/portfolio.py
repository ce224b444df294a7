"""The answer of ``review`` for a tree of many sites."""

from collections.abc import Mapping
from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.finding import Findings
from zonecfg.results.outcome import Help, Lines, Told
from zonecfg.results.review import ReviewPage
from zonecfg.results.tally import CheckTally, SiteTally


class Portfolio(Struct, frozen=True, kw_only=True):
    """The answer of ``review`` for a tree of sites: ``zonecfg-portfolio/1``."""

    format: Literal["zonecfg-portfolio/1"] = "zonecfg-portfolio/1"
    sites: tuple[SiteTally, ...]
    """Those with the worst findings first."""
    checks: tuple[CheckTally, ...]
    """Those that find most first."""
    pages: Mapping[str, ReviewPage]
    """What a review of each site by itself says, by its folder."""


class PortfolioReview(Struct, frozen=True, kw_only=True):
    """A review of many sites, with the help and the lines of their findings."""

    judges: ClassVar[bool] = True
    portfolio: Portfolio
    check: Findings
    help: Mapping[str, Help] = {}
    lines: Lines = {}

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.portfolio

    @property
    def told(self) -> Told:
        """All findings of all sites."""
        found = self.check
        sides = [page.against for page in self.portfolio.pages.values() if page.against is not None]
        return Told(
            files=found.files,
            findings=found.findings,
            not_checked=found.not_checked,
            help=self.help,
            lines=self.lines,
            new=tuple(f for side in sides for f in side.introduced) if sides else None,
            worse=frozenset(key for side in sides for key in side.worse),
        )
