"""Lengths as schedules write them: numbers with and without units, feet and inches, two sizes in one cell."""

import re

from msgspec import Struct

FACTORS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
"""Millimetres in one of each unit."""

_FEET = re.compile(
    r"""(?:(\d+)\s*(?:'|ft\.?|feet)[\s-]*)?(?:(\d+(?:\.\d+)?)?\s*(?:(\d+)/(\d+))?\s*(?:"|''|in\.?|inches))?"""
)
_PLAIN = re.compile(r"([+-]?\d+(?:[.,]\d+)?)\s*(mm|cm|m|in|ft)?\.?")
_THOUSANDS = re.compile(r"\d{1,3}[.,]\d{3}")
_PAIR = re.compile(r"(.+?)\s*(?:[x×X*]|by)\s*(.+)")
_SIDE = re.compile(r"^(.*?)\s*([WwHh])$|^([WwHh])\s*(.*)$")


class Length(Struct, frozen=True):
    """A number as it stands, with its unit if it says one; ``doubtful`` where a comma or point may part thousands."""

    number: float
    unit: str | None = None
    doubtful: bool = False

    def in_mm(self, unit: str) -> float:
        """Give it in millimetres; ``unit`` counts where it says none itself."""
        return round(self.number * FACTORS[self.unit or unit], 3)


def length(text: str) -> Length | None:
    """Read one length; None where it is none."""
    text = text.strip().replace("′", "'").replace("″", '"').replace("’", "'").replace("”", '"')
    if not text:
        return None
    if plain := _PLAIN.fullmatch(text.lower()):
        doubtful = bool(_THOUSANDS.fullmatch(plain[1]))
        return Length(float(plain[1].replace(",", ".")), plain[2], doubtful)
    parts = _FEET.fullmatch(text)
    if parts and any(parts.groups()):
        feet, inches, over, under = parts.groups()
        if under is not None and not float(under):
            return None
        part = float(over) / float(under) if over else 0.0
        return Length(12 * float(feet or 0) + float(inches or 0) + part, "in")
    return None


class Pair(Struct, frozen=True):
    """Two sizes of one cell; ``order`` is ``wh`` or ``hw`` where letters say which is which."""

    first: Length
    second: Length
    order: str | None = None


def pair(text: str) -> Pair | None:
    """Read two sizes; None where there are not two."""
    parts = _PAIR.fullmatch(text.strip())
    if parts is None:
        return None
    sides = [_lettered(part) for part in parts.groups()]
    read = [length(words) for words, _ in sides]
    if read[0] is None or read[1] is None:
        return None
    letters = "".join(letter for _, letter in sides)
    unit = read[1].unit
    first = read[0] if read[0].unit or not unit else Length(read[0].number, unit, read[0].doubtful)
    return Pair(first, read[1], letters if letters in ("wh", "hw") else None)


def _lettered(text: str) -> tuple[str, str]:
    """Part a size from the letter that says which it is; ``m`` and the like are units."""
    match = _SIDE.match(text.strip())
    if match is None:
        return text, ""
    return (match[1], match[2].lower()) if match[2] else (match[4], match[3].lower())


def unit_that_fits(lengths: list[float], *, inches_said: bool = False) -> str | None:
    """Give the unit in which every size is one of a window; None where more than one fits, or none."""
    if not lengths:
        return None
    if all(300 <= value <= 6000 for value in lengths):
        return "mm"
    if all(0.3 <= value <= 6 for value in lengths):
        return "m"
    if all(12 <= value <= 144 for value in lengths) and inches_said:
        return "in"
    return None
