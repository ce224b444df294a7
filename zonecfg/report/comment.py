"""Markdown that fits a comment on a pull request."""

from zonecfg.report import markdown
from zonecfg.report.fit import COMMENT, fitted
from zonecfg.report.said import Telling


def render(answer: Telling) -> str:
    """Write an outcome as Markdown of at most 65,536 bytes; what had to be folded away is said."""
    return fitted(markdown.render(answer), COMMENT)
