"""The formats: each a module with ``render(outcome) -> str``. To add one, add its module and a line here."""

from importlib import import_module

from zonecfg.errors import UnknownName
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Answer

FORMATS = {
    "text": "zonecfg.report.text",
    "json": "zonecfg.report.json_",
    "markdown": "zonecfg.report.markdown",
    "comment": "zonecfg.report.comment",
    "sarif": "zonecfg.report.sarif",
    "junit": "zonecfg.report.junit",
    "github": "zonecfg.report.github",
}

FINDINGS_ONLY = frozenset({"sarif", "junit", "github"})
"""Formats that tell nothing but findings: of anything else they would be empty, which looks like a pass."""


def render(name: str, outcome: Answer) -> str:
    """Write an outcome in a format.

    Raises
    ------
    UnknownName
        There is no such format, or it tells findings only and there can be none.
    """
    refuse_unfit(name, judges=outcome.judges)
    written: str = import_module(FORMATS[name]).render(outcome)
    return written


def refuse_unfit(name: str, *, judges: bool) -> None:
    """Refuse a format before a command does its work, where that is more than to tell.

    Raises
    ------
    UnknownName
        There is no such format, or it tells findings only and there can be none.
    """
    if name not in FORMATS:
        raise UnknownName(f"{name} is no format{did_you_mean(name, FORMATS)}; there are {', '.join(FORMATS)}")
    if name in FINDINGS_ONLY and not judges:
        others = ", ".join(other for other in FORMATS if other not in FINDINGS_ONLY)
        raise UnknownName(f"{name} tells findings, and there are none to tell here; there are {others}")
