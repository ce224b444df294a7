"""Cells that stay text: nothing a plan holds is ever a formula."""

FORMULA_SIGNS = "=+-@\t\r\n"


def guarded(text: str) -> str:
    """Put an apostrophe before text that a spreadsheet would take for a formula, or that begins with one itself."""
    return "'" + text if text[:1] and text[0] in FORMULA_SIGNS + "'" else text


def unguarded(text: str) -> str:
    """Take that apostrophe off again."""
    return text[1:] if text[:1] == "'" and text[1:2] and text[1] in FORMULA_SIGNS + "'" else text
