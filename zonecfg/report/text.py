"""Text for a person at a terminal: blocks as lines no wider than the window, words of a plan shown and never obeyed."""

from collections.abc import Iterable, Iterator
from typing import assert_never

from zonecfg.report.blocks import (
    Bars,
    Block,
    Code,
    Detail,
    Fault,
    Fold,
    Gist,
    Heading,
    Item,
    Items,
    Moments,
    Paragraph,
    Picture,
    Rule,
    Table,
    Title,
    Verbatim,
    Warned,
    Words,
)
from zonecfg.report.said import Telling, said
from zonecfg.report.style import PLAIN, Style
from zonecfg.results.signs import commandless, printable

_EDGE = "  "
_BAR = 20


def render(answer: Telling, style: Style = PLAIN) -> str:
    """Write an answer as text."""
    return written(said(answer), style)


def written(blocks: Iterable[Block], style: Style = PLAIN) -> str:
    """Write blocks as text."""
    return "\n".join(map(commandless, lines(blocks, style))).strip("\n").rstrip() + "\n"


def lines(blocks: Iterable[Block], style: Style) -> Iterator[str]:
    """Give blocks line by line, an empty one between those that do not belong together."""
    before: Block | None = None
    for block in _flat(blocks):
        if before is not None and not _joined(before, block):
            yield ""
        yield from _block(block, style)
        before = block


def _flat(blocks: Iterable[Block]) -> Iterator[Block]:
    for block in blocks:
        if isinstance(block, Gist | Detail):
            yield from _flat(block.blocks)
        elif not (isinstance(block, Title) and block.quiet):
            yield block


def _joined(before: Block, block: Block) -> bool:
    """Whether no empty line stands between two blocks."""
    if isinstance(before, Heading | Rule):
        return True
    return type(before) is type(block) and isinstance(block, Paragraph | Items | Warned)


def _plain(words: Words) -> str:
    parts = (words,) if isinstance(words, str) else words
    return printable("".join(part.text if isinstance(part, Code) else part for part in parts))


def _block(block: Block, style: Style) -> Iterator[str]:
    match block:
        case Title(words) | Heading(words):
            yield from (style.paint(line, "strong") for line in style.wrapped(_plain(words)))
        case Paragraph(words, whole):
            yield from [_plain(words)] if whole else style.wrapped(_plain(words))
        case Warned(words):
            yield from style.wrapped(_plain(words), style.paint("! ", "error"), _EDGE)
        case Items():
            yield from _items(block, style)
        case Table():
            yield from _table(block, style)
        case Moments():
            yield from _moments(block, style)
        case Bars():
            yield from _bars(block, style)
        case Picture(draw):
            yield from map(printable, draw(style.width))
        case Verbatim(held):
            yield from map(printable, held)
        case Fault():
            yield from _fault(block, style)
        case Fold():
            yield from _fold(block, style)
        case Rule():
            yield style.paint("─" * min(style.width, 80), "faint")
        case Gist() | Detail():
            yield from lines(block.blocks, style)
        case _:
            assert_never(block)


def _items(block: Items, style: Style) -> Iterator[str]:
    if block.title:
        yield printable(block.title)
    for number, item in enumerate(block.items, 1):
        yield from _item(item, f"{number:>4}. " if block.steps or block.numbered else _EDGE, style)


def _item(item: Item, first: str, style: Style) -> Iterator[str]:
    label = f"{first}{item.severity:<8}" if item.severity else first
    hang = " " * len(label) if label.strip() else first + _EDGE
    body = style.wrapped(_plain(item.words), label, hang)
    yield style.paint(label, item.severity) + body[0][len(label) :] if item.severity else body[0]
    yield from body[1:]
    for under in item.under:
        yield from _item(under, " " * len(first) if first.strip() else first + _EDGE, style)


def _table(block: Table, style: Style) -> Iterator[str]:
    rows = [[printable(cell) for cell in row] for row in block.rows]
    heads = [("", ""), *block.headings]
    widths = [max(map(len, (*head, *(row[place] for row in rows)))) for place, head in enumerate(heads)]
    # The last column stands left where it is words.
    words = len(heads) - 1 if rows and rows[0][-1][:1].isalpha() else -1

    def line(cells: Iterable[str]) -> str:
        padded = (
            cell.ljust(width) if place in (0, words) else cell.rjust(width)
            for place, (cell, width) in enumerate(zip(cells, widths, strict=True))
        )
        return (_EDGE + _EDGE.join(padded)).rstrip()

    yield style.paint(block.title, "strong")
    yield from (style.paint(line(head), "faint") for head in zip(*heads, strict=True) if any(head))
    yield from map(line, rows)


def _moments(block: Moments, style: Style) -> Iterator[str]:
    for moment in block.rows[: block.most]:
        yield from style.wrapped(_plain(moment.words), f"{moment.at:>9}  ")
    if len(block.rows) > block.most:
        yield f"{'':9}  and {len(block.rows) - block.most} more; json tells all"


def _bars(block: Bars, style: Style) -> Iterator[str]:
    yield style.paint(block.title, "strong")
    for row in block.rows:
        full = _BAR if row.done == row.of else min(round(_BAR * row.done / row.of), _BAR - 1)
        start = f"{_EDGE}{row.what:<28}{'█' * full}{'░' * (_BAR - full)}  {row.done} of {row.of}"
        rest = [*([f"{row.failed} failed"] if row.failed else []), *([f"{row.open} open"] if row.open else [])]
        yield from (
            style.wrapped(printable("; ".join(rest)), f"{start}; ", " " * (len(_EDGE) + 30 + _BAR)) if rest else [start]
        )


def _fold(block: Fold, style: Style) -> Iterator[str]:
    yield style.paint(printable(block.title), "strong")
    if block.note:
        yield style.paint(printable(block.note), "faint")
    if block.note or (block.blocks and isinstance(block.blocks[0], Fault)):
        yield ""
    yield from lines(block.blocks, style)


def _fault(block: Fault, style: Style) -> Iterator[str]:
    label = f"{block.severity:<8}"
    indent = " " * len(label)
    body = style.wrapped(printable(block.message), indent)
    yield style.paint(label, block.severity) + body[0][len(label) :]
    yield from body[1:]
    if block.line is not None:
        yield _quote(block, f"{indent}{block.line} │ ", style)
    if block.behind:
        yield from style.wrapped(printable(block.behind), indent, indent + _EDGE)
    if block.why:
        yield from style.wrapped(f"why: {block.why}", indent, indent + "     ")
    if block.cure:
        yield from style.wrapped(f"cure: {block.cure}", indent, indent + "      ")
    yield style.paint(f"{indent}{printable(f'{block.check}, {block.about}')}", "faint")


def _quote(block: Fault, number: str, style: Style) -> str:
    """Quote the line; » and « stand around the guilty part, so that it shows without colour or alignment."""
    line = block.quoted
    if not line.strip():
        return number.rstrip()
    start = (block.column or 1) - 1
    end = block.end_column - 1 if block.end_column is not None else len(line.rstrip())
    before, guilty, after = (printable(part) for part in (line[:start], line[start:end], line[end:]))
    most = max(style.width - len(number) - 10, 24)
    if len(guilty) > most:
        guilty = guilty[: most - 1] + "…"
    room = max(style.width - len(number) - len(guilty) - 2, 8)
    if len(before) + len(after) > room:
        keep = max(room - min(len(after), room // 3), room // 2)
        if len(before) > keep:
            before = "…" + before[len(before) - keep + 1 :]
        left = max(room - len(before), 0)
        if len(after) > left:
            after = after[: max(left - 1, 0)] + "…"
    return f"{number}{before}»{style.paint(guilty, 'guilty')}«{after}"
