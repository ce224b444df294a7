"""How text looks: its width and its colours, which are only an aid."""

from textwrap import wrap

from msgspec import Struct

_CODES = {"error": "1;31", "warning": "33", "note": "36", "strong": "1", "faint": "2", "guilty": "4"}


class Style(Struct, frozen=True):
    """Width in columns, and whether colours are used."""

    width: int = 80
    colour: bool = False

    def paint(self, text: str, kind: str) -> str:
        """Colour text, where colours are used."""
        return f"\x1b[{_CODES[kind]}m{text}\x1b[0m" if self.colour and text else text

    def wrapped(self, text: str, first: str = "", rest: str | None = None) -> list[str]:
        """Break text into lines: ``first`` stands before the first one, ``rest`` before the others."""
        indent = " " * len(first) if rest is None else rest
        return wrap(
            text,
            self.width,
            initial_indent=first,
            subsequent_indent=indent,
            break_long_words=False,
            break_on_hyphens=False,
        ) or [first.rstrip()]


PLAIN = Style()
