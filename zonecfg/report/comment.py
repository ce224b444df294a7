"""Markdown that fits a comment on a pull request."""

from zonecfg.report import markdown
from zonecfg.report.fit import COMMENT, fitted
from zonecfg.report.said import Telling

MARK = "<!-- zonecfg -->"
"""The first line: nobody sees it, and whoever posts a comment finds the one that it posted before."""


def render(answer: Telling) -> str:
    """Write an outcome as Markdown of at most 65,536 bytes; what had to be folded away is said."""
    return f"{MARK}\n{fitted(markdown.render(answer), COMMENT - len(MARK) - 1)}"
