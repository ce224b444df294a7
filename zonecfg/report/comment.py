"""Markdown that fits a comment on a pull request."""

from zonecfg.report import markdown
from zonecfg.report.fit import COMMENT, fitted
from zonecfg.results.outcome import Answer


def render(outcome: Answer) -> str:
    """Write an outcome as Markdown of at most 65,536 bytes; what had to be folded away is said."""
    return fitted(markdown.render(outcome), COMMENT)
