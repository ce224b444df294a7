"""Words from a plan made harmless, so that they can be shown to a terminal or put on a page."""

import re

from zonecfg.results.signs import printable

_MARKDOWN = re.compile(r"[\\`*_{}\[\]+!|<>~$&@#]|:(?=//)|(?<=www)\.", re.IGNORECASE)
# A backslash does not stop what GitHub links by itself. The number of a sign cuts an address; a comment behind it cuts
# a mention or an issue's number, since those are looked for in the rendered text.
_OTHERWISE = {
    **{sign: f"&#{ord(sign)};" for sign in ":.<>&"},
    **{sign: f"&#{ord(sign)};<!-- -->" for sign in "@#"},
}


def in_markdown(text: str) -> str:
    """Write text so that GitHub-flavoured Markdown shows it as it is: no link, mention, table, emphasis or HTML."""
    return _MARKDOWN.sub(lambda m: _OTHERWISE.get(m[0], "\\" + m[0]), printable(text))


def harmless_json(text: str) -> str:
    """Write a sign in JSON's texts by its number where a runner that reads it would take it for a command."""
    return text.replace("##[", "#\\u0023[") if "##[" in text else text


def code_span(text: str) -> str:
    """Write text as code within a line, whatever backticks it holds."""
    shown = printable(text) or " "
    ticks = "`" * (max((len(run) for run in re.findall("`+", shown)), default=0) + 1)
    pad = " " if shown.startswith("`") or shown.endswith("`") or shown != shown.strip() else ""
    return f"{ticks}{pad}{shown}{pad}{ticks}"


def fenced(lines: list[str], language: str = "") -> list[str]:
    """Write lines as a block of code, whatever fences they hold."""
    shown = [printable(line) for line in lines]
    longest = max((len(run) for line in shown for run in re.findall("`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    return [f"{fence}{language}", *shown, fence]
