"""An answer that is headings with lines under them, and lines under these."""

from collections.abc import Iterable, Iterator

from zonecfg.report.blocks import Block, Heading, Item, Items


def outlined(told: Iterable[tuple[int, str]]) -> Iterator[Block]:
    """Make blocks of headings (0), lines (1) and what belongs to a line (2)."""
    held: list[tuple[str, list[str]]] = []
    for depth, words in told:
        if depth == 0:
            yield from _list(held)
            held = []
            yield Heading(words)
        elif depth == 1:
            held.append((words, []))
        else:
            held[-1][1].append(words)
    yield from _list(held)


def _list(held: list[tuple[str, list[str]]]) -> Iterator[Block]:
    if held:
        yield Items(tuple(Item(words, tuple(map(Item, under))) for words, under in held))
