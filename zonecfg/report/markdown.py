"""Markdown for a pull request or a step summary. What a command gives is told by the module its kind names."""

from importlib import import_module

from zonecfg.report.fit import SUMMARY, fitted
from zonecfg.results.outcome import Answer


def render(outcome: Answer) -> str:
    """Write an outcome as GitHub-flavoured Markdown; findings fit a step summary, of steps to take none is left out."""
    telling = import_module(f"zonecfg.report.markdown_{outcome.kind}")
    text = "\n".join(telling.lines(outcome)).rstrip() + "\n"
    return fitted(text, SUMMARY) if outcome.judges else text
