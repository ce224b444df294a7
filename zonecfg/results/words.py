"""Small words: lists, counts and figures as people write them."""

from collections.abc import Iterable


def listed(items: Iterable[str], most: int = 6) -> str:
    """Write ``a, b and c``; beyond ``most`` the rest is counted."""
    names = list(items)
    if len(names) > most:
        names = [*names[: most - 1], f"{len(names) - most + 1} more"]
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def counted(number: int, one: str, several: str | None = None) -> str:
    """Write ``1 group`` or ``2 groups``."""
    return f"{number} {one if number == 1 else several or one + 's'}"


def beside(value: float, limit: float, decimals: int) -> str:
    """Write a figure with so many decimals, or as many more as show on which side of a limit it is."""
    texts = [f"{value:.{n}f}" for n in range(decimals, 5)]
    return next((text for text in texts if (float(text) - limit) * (value - limit) > 0), texts[-1])


def figure(value: float, digits: int = 3) -> str:
    """Write a figure to a number of significant digits, without exponent or trailing zeros."""
    if value == 0:
        return "0"
    text = f"{float(f'{value:.{digits}g}'):.10f}".rstrip("0").rstrip(".")
    return text or "0"
