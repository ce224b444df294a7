"""Cells that stay text: nothing a plan holds is ever a formula."""

import re

FORMULA_SIGNS = "=+-@\t\r\n"


_WITHIN = re.compile(r"([;|,\t\r\n][ \t]*'*)([=+\-@])")
_GUARDED_WITHIN = re.compile(r"([;|,\t\r\n][ \t]*'*)'([=+\-@])")


def guarded(text: str) -> str:
    """Put an apostrophe wherever a spreadsheet, of whatever locale, would see a formula begin.

    That is at the beginning, spaces aside, and behind each sign that separates the cells of a list somewhere: a list
    with commas that is opened where semicolons separate falls into other cells. Text that begins with an apostrophe
    gets one more.
    """
    text = _WITHIN.sub(r"\1'\2", text)
    return "'" + text if text.lstrip(" ")[:1] and text.lstrip(" ")[0] in FORMULA_SIGNS + "'" else text


def unguarded(text: str) -> str:
    """Take these apostrophes off again."""
    rest = text[1:].lstrip(" ")
    text = text[1:] if text[:1] == "'" and rest[:1] and rest[0] in FORMULA_SIGNS + "'" else text
    return _GUARDED_WITHIN.sub(r"\1\2", text)
