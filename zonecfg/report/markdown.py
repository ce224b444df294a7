"""Markdown for a pull request or a step summary. What a command gives is told by the module its kind names."""

from importlib import import_module

from zonecfg.results.outcome import Answer


def render(outcome: Answer) -> str:
    """Write an outcome as GitHub-flavoured Markdown."""
    telling = import_module(f"zonecfg.report.markdown_{outcome.kind}")
    return "\n".join(telling.lines(outcome)).rstrip() + "\n"
