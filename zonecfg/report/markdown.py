"""Markdown for a pull request or a step summary: blocks as GitHub shows them, words of a plan escaped here alone."""

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
from zonecfg.report.fit import SUMMARY, fitted
from zonecfg.report.inert import code_span, fenced, in_markdown
from zonecfg.report.said import Telling, said
from zonecfg.results.signs import commandless

_COLUMNS = 80  # of a picture


def render(answer: Telling) -> str:
    """Write an answer as GitHub-flavoured Markdown; findings fit a step summary, of steps to take none is left out."""
    text = written(said(answer))
    return fitted(text, SUMMARY) if answer.judges else text


def written(blocks: Iterable[Block]) -> str:
    """Write blocks as Markdown."""
    page = "\n\n".join("\n".join(_block(block)) for block in _as_a_page(blocks)).rstrip() + "\n"
    return "\n".join(map(commandless, page.split("\n"))) if "::" in page else page


def _as_a_page(blocks: Iterable[Block]) -> Iterator[Block]:
    """Put a page's blocks in its order: title, gists (the last first), the rest, and what is long."""
    told = list(blocks)
    yield from (b for b in told if isinstance(b, Title))
    yield from (held for b in reversed(told) if isinstance(b, Gist) for held in b.blocks if not isinstance(held, Rule))
    yield from (b for b in told if not isinstance(b, Title | Gist | Detail | Rule))
    yield from (held for b in told if isinstance(b, Detail) for held in b.blocks if not isinstance(held, Rule))


def _inline(words: Words) -> str:
    parts = (words,) if isinstance(words, str) else words
    return "".join(code_span(part.text) if isinstance(part, Code) else in_markdown(part) for part in parts)


def _block(block: Block) -> Iterator[str]:
    match block:
        case Title(words, quiet):
            yield f"{'##' if quiet else '#'} {_inline(words)}"
        case Heading(words):
            yield f"## {_inline(words)}"
        case Paragraph(words):
            yield _inline(words)
        case Warned(words):
            yield f"> **{_inline(words)}**"
        case Items():
            yield from _items(block)
        case Table():
            yield from (f"### {block.title}", "") if block.title else ()
            heads = ["id", *(f"{head}, {unit}" if unit else head for head, unit in block.headings)]
            yield _row(heads)
            yield f"| --- |{' ---: |' * len(block.headings)}"
            yield from (_row(map(in_markdown, row)) for row in block.rows)
        case Moments(rows):
            yield from ("| time | what |", "|---|---|")
            yield from (_row((in_markdown(moment.at), _inline(moment.words))) for moment in rows)
        case Bars(title, bars):
            yield from (f"| {title.lower()} | done | failed | open |", "|---|---|---|---|")
            for bar in bars:
                yield _row((bar.what, f"{bar.done} of {bar.of}", in_markdown(bar.failed), in_markdown(bar.open)))
        case Picture(draw):
            yield from fenced(draw(_COLUMNS))
        case Verbatim(held):
            yield from fenced(list(held))
        case Fault():
            yield from _fault(block)
        case Fold():
            yield from _fold(block)
        case Gist() | Detail():
            yield written(block.blocks)
        case Rule():
            yield "---"
        case _:
            assert_never(block)


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _items(block: Items) -> Iterator[str]:
    if block.title:
        yield from (f"**{in_markdown(block.title)}**", "")
    for number, item in enumerate(block.items, 1):
        yield from _item(item, "- [ ] " if block.steps else f"{number}. " if block.numbered else "- ")


def _item(item: Item, mark: str) -> Iterator[str]:
    severity = f"**{item.severity}** " if item.severity else ""
    yield f"{mark}{severity}{_inline(item.words)}"
    for under in item.under:
        yield from (f"{' ' * (len(mark) if mark.endswith('. ') else 2)}{line}" for line in _item(under, "- "))


def _fault(block: Fault) -> Iterator[str]:
    place = f", line {block.line}" if block.line is not None else ""
    yield f"- **{block.severity}** {in_markdown(block.message)} ({code_span(block.check)}{place})"
    if block.behind:
        yield f"  {in_markdown(block.behind)}"
    if block.quoted.strip():
        yield ""
        yield from (f"  {text}" for text in fenced([block.quoted], "yaml"))


def _fold(block: Fold) -> Iterator[str]:
    gist = f": {in_markdown(block.gist)}" if block.gist else ""
    yield f"<details{' open' * block.open}><summary>{in_markdown(block.title)}{gist}</summary>"
    yield ""
    for held in _as_a_page((*block.blocks, *block.more)):
        yield from _block(held)
        yield ""
    yield "</details>"
