"""Many sites in short: which have the worst findings, and which checks find most."""

from collections.abc import Iterator, Sequence

from zonecfg.report.blocks import Block, Code, Heading, Item, Items, items
from zonecfg.results.finding import SEVERITIES, Summary
from zonecfg.results.tally import CheckTally, SiteTally
from zonecfg.results.words import counted, listed

_MOST_SITES = 20
_MOST_CHECKS = 10


def sites_blocks(sites: Sequence[SiteTally], checks: Sequence[CheckTally]) -> Iterator[Block]:
    """Tell the worst sites, how many the others are, and the checks that find most."""
    worst = [tally for tally in sites if _open(tally.findings)][:_MOST_SITES]
    yield Heading("Sites, the worst first")
    if worst:
        yield items([f"{tally.site}: {open_words(tally.findings)}" for tally in worst])
    yield items([_others(sites, len(worst))])
    if checks:
        yield Heading("What is found most")
        told = [
            Item((Code(check.check), f": {check.findings} in {counted(check.sites, 'site')}"))
            for check in checks[:_MOST_CHECKS]
        ]
        yield Items(tuple(told))
        if len(checks) > _MOST_CHECKS:
            yield items([f"and {counted(len(checks) - _MOST_CHECKS, 'other check')}"])


def _others(sites: Sequence[SiteTally], named: int) -> str:
    """Say how many sites are not named, and how many have nothing open."""
    calm = sum(not _open(tally.findings) for tally in sites)
    more = len(sites) - calm - named
    parts = [f"{counted(more, 'more site')} with something open"] if more else []
    return listed([*parts, f"{counted(calm, 'site')} with nothing open"])


def open_words(summary: Summary) -> str:
    """Say what is open: ``2 errors and 1 note``."""
    counts = [counted(getattr(summary, severity), severity) for severity in SEVERITIES if getattr(summary, severity)]
    return listed(counts) or "nothing open"


def _open(summary: Summary) -> int:
    return summary.error + summary.warning + summary.note
