"""Text for a person at a terminal. What a command gives is told by the module its kind names."""

from importlib import import_module

from zonecfg.report.style import PLAIN, Style
from zonecfg.results.outcome import Answer


def render(outcome: Answer, style: Style = PLAIN) -> str:
    """Write an outcome as text."""
    telling = import_module(f"zonecfg.report.text_{outcome.kind}")
    return "\n".join(telling.lines(outcome, style)).rstrip() + "\n"
