"""Markdown made to fit where it lands: whole parts are folded away, the last ones first, and that is said."""

import re
from collections.abc import Iterator

from zonecfg.results.words import counted

SUMMARY = 1_048_576
"""Most that a step summary of GitHub may hold [bytes]; a longer one is dropped whole."""

COMMENT = 65_536
"""Most that a comment on GitHub may hold [characters]; counted here in bytes, which are never fewer."""

_SPARE = 400  # for saying what is not shown
_FENCE = re.compile(r" {0,3}(`{3,}|~{3,})")
_SUMMARY_LINE = re.compile(r"<details[^>]*><summary>(.*)</summary>")


def fitted(text: str, most: int) -> str:
    """Fold parts of a Markdown text away until it fits.

    Parameters
    ----------
    text
        Counts first; long parts each in a ``<details>`` of their own.
    most
        Bytes it may have in UTF-8.

    Returns
    -------
    str
        The text as it is, where it fits. Otherwise without the insides of its last folded parts, and as a last resort
        without its last parts; no block of code, list item or folded part is ever cut in two.
    """
    if len(text.encode()) <= most:
        return text
    parts = list(_parts(text))
    size = sum(map(_size, parts))
    folded = 0
    for index in range(len(parts) - 1, -1, -1):
        if size <= most - _SPARE:
            break
        if (summary := _SUMMARY_LINE.match(parts[index])) is not None:
            short = f"- {summary[1]} (not shown here)"
            size -= _size(parts[index]) - _size(short)
            parts[index] = short
            folded += 1
    cut = 0
    while parts and size > most - _SPARE:
        size -= _size(parts.pop())
        cut += 1
    said = [
        *([f"{counted(folded, 'part')} folded away"] if folded else []),
        *([f"{counted(cut, 'more part')} left out"] if cut else []),
    ]
    parts.append(f"_{' and '.join(said)}, so that this fits here; `--format text` and `--format json` tell all._")
    return "\n\n".join(parts) + "\n"


def _size(part: str) -> int:
    return len(part.encode()) + 2


def _parts(text: str) -> Iterator[str]:
    """Cut a text at its empty lines, but not within a block of code, a folded part or an item of a list."""
    held: list[str] = []
    fence = ""
    deep = 0
    lines = text.rstrip("\n").split("\n")
    for number, line in enumerate(lines):
        opens = _FENCE.match(line.strip())
        if fence:
            if opens and opens[1].startswith(fence) and line.strip() == opens[1]:
                fence = ""
        elif opens:
            fence = opens[1]
        else:
            deep += line.startswith("<details") - line.startswith("</details>")
            goes_on = number + 1 < len(lines) and lines[number + 1].startswith(" ")
            if not line and not deep and not goes_on:
                if held:
                    yield "\n".join(held)
                held = []
                continue
        held.append(line)
    if held:
        yield "\n".join(held)
