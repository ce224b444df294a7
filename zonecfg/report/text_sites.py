"""Many sites in short: which have the worst findings, and which checks find most."""

from collections.abc import Iterator, Sequence

from zonecfg.report.style import Style
from zonecfg.results.finding import SEVERITIES, Summary
from zonecfg.results.signs import printable
from zonecfg.results.tally import CheckTally, SiteTally
from zonecfg.results.words import counted, listed

_EDGE = "  "
MOST_SITES = 20
MOST_CHECKS = 10


def sites_lines(sites: Sequence[SiteTally], checks: Sequence[CheckTally], style: Style) -> Iterator[str]:
    """Tell the worst sites, how many the others are, and the checks that find most."""
    yield style.paint("Sites, the worst first", "strong")
    for tally in worst(sites):
        yield from style.wrapped(printable(f"{tally.site}: {open_words(tally.findings)}"), _EDGE, _EDGE * 2)
    yield from style.wrapped(others_words(sites), _EDGE)
    if checks:
        yield ""
        yield style.paint("What is found most", "strong")
        for check in checks[:MOST_CHECKS]:
            yield f"{_EDGE}{check_words(check)}"
        if len(checks) > MOST_CHECKS:
            yield f"{_EDGE}and {counted(len(checks) - MOST_CHECKS, 'other check')}"


def worst(sites: Sequence[SiteTally]) -> Sequence[SiteTally]:
    """Give the sites to name: those with something open, the worst ones."""
    return [tally for tally in sites if _open(tally.findings)][:MOST_SITES]


def others_words(sites: Sequence[SiteTally]) -> str:
    """Say how many sites are not named, and how many have nothing open."""
    calm = sum(not _open(tally.findings) for tally in sites)
    more = len(sites) - calm - len(worst(sites))
    parts = [f"{counted(more, 'more site')} with something open"] if more else []
    return listed([*parts, f"{counted(calm, 'site')} with nothing open"])


def open_words(summary: Summary) -> str:
    """Say what is open: ``2 errors and 1 note``."""
    counts = [counted(getattr(summary, severity), severity) for severity in SEVERITIES if getattr(summary, severity)]
    return listed(counts) or "nothing open"


def check_words(tally: CheckTally) -> str:
    """Say how often a check found something."""
    return f"{tally.check}: {tally.findings} in {counted(tally.sites, 'site')}"


def _open(summary: Summary) -> int:
    return summary.error + summary.warning + summary.note
