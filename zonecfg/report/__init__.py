"""The formats: each a module with ``render(outcome) -> str``. To add one, add its module and a line here."""

from importlib import import_module

from zonecfg.errors import UnknownName
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Answer

FORMATS = {
    "text": "zonecfg.report.text",
    "json": "zonecfg.report.json_",
    "markdown": "zonecfg.report.markdown",
    "sarif": "zonecfg.report.sarif",
    "junit": "zonecfg.report.junit",
    "github": "zonecfg.report.github",
}


def render(name: str, outcome: Answer) -> str:
    """Write an outcome in a format.

    Raises
    ------
    UnknownName
        There is no such format.
    """
    if name not in FORMATS:
        raise UnknownName(f"{name} is no format{did_you_mean(name, FORMATS)}; there are {', '.join(FORMATS)}")
    written: str = import_module(FORMATS[name]).render(outcome)
    return written
