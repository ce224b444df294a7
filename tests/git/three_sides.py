"""Draws a plan and what two people made of it, and says a second, plain way what it says."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import strategies
from hypothesis import strategies as st

if TYPE_CHECKING:
    from collections.abc import Callable

    Draw = Callable[[st.SearchStrategy[Any]], Any]

SETS = {"carries", "protection", "saved_copy_keeps", "copy_also_holds"}
THINGS = ("rooms", "openings", "controllers", "supplies", "actuators", "groups", "sensors", "junctions", "cables",
          "wet_weather", "strong_wind")  # fmt: skip


@st.composite
def three(draw: Draw) -> tuple[Any, Any, Any]:
    """Draw a site and two edited copies of it."""
    base = draw(strategies.sites())
    return base, draw(strategies.edited(base)), draw(strategies.edited(base))


def said(data: dict[str, Any]) -> dict[Any, Any]:
    """Everything a plan says, a key a fact: who is in which groups, each link, each field of each thing."""
    facts: dict[Any, Any] = {}
    for section in THINGS:
        facts.update({(section, key): True for key in data.get(section, {})})
    for group, fields in data.get("groups", {}).items():
        for member in fields.get("actuators", ()):
            facts.setdefault(("home", member), set()).add(group)
    for sensor, groups in data.get("links", {}).items():
        facts.update({("link", sensor, group): True for group in groups})
    facts.update({("terminator", node): True for node in data.get("terminators", ())})
    _walk(facts, data, ())
    return facts


def _walk(facts: dict[Any, Any], value: Any, path: tuple[str, ...]) -> None:
    if isinstance(value, dict):
        for key, item in value.items():
            _walk(facts, item, (*path, key))
    elif path[0] in {"links", "terminators"} or (path[0] == "groups" and path[-1] == "actuators"):
        return
    else:
        facts[path] = frozenset(value) if path[-1] in SETS else repr(value)


def chosen(text: str, side: str) -> str:
    """Resolve every conflict of a text for one side, as somebody does in an editor."""
    kept = 1 if side == "ours" else 2
    return re.sub(r"(?ms)^<{7} ours\n(.*?)^={7}\n(.*?)^>{7} theirs\n", lambda m: m[kept], text)


def commented(text: str) -> str:
    """Put comments above things and sections and beside values."""
    lines = []
    for number, line in enumerate(text.splitlines()):
        indent = len(line) - len(line.lstrip())
        if line.strip() and indent in (0, 2) and number % 3 == 0:
            lines.append(f"{' ' * indent}# above {number}")
        lines.append(f"{line}   # beside {number}" if line.strip() and number % 2 else line)
    return "\n".join(lines) + "\n# at the end\n"
