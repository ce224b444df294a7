"""Signs of a text that nobody sees: shown by their number instead of obeyed."""

import re

# Controls, and the signs that turn the direction of text or hide in it.
_UNPRINTABLE = re.compile("[\x00-\x08\x0a-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]")


def printable(text: str) -> str:
    """Show control and direction signs by their number instead of obeying them; a tab becomes four spaces.

    So is the sign that makes ``##[...]`` a command to runners that read what is printed, wherever on a line it stands.
    """
    shown = _UNPRINTABLE.sub(lambda m: f"<U+{ord(m[0]):04X}>", text.replace("\t", "    "))
    return shown.replace("##[", "#<U+0023>[") if "##[" in shown else shown


def commandless(line: str) -> str:
    """Show the first sign of a line that runners would take for a command of theirs (``::name::``) by its number."""
    bare = line.lstrip()
    return f"{line[: len(line) - len(bare)]}<U+003A>{bare[1:]}" if bare.startswith("::") else line


def hidden(quoted: str) -> str:
    """Write control and direction signs within a text in JSON's quotes by their number, so that it stays JSON."""
    return _UNPRINTABLE.sub(lambda m: f"\\u{ord(m[0]):04x}", quoted)
