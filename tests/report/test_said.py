"""An answer is told once, in blocks; formats render and escape them, and nothing else does."""

import ast
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import get_args

import cmarkgfm
import pytest
from cmarkgfm.cmark import Options
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.report import blocks, markdown, said, text
from zonecfg.report.style import Style

PACKAGE = Path(said.__file__).parent
ESCAPES = {"printable", "in_markdown", "code_span", "fenced", "escape", "hidden"}
NASTY = st.sampled_from(
    [
        "<b>x</b>",
        "\x1b[31m",
        "\u202e",
        "`a`",
        "| a |",
        "# x",
        "- y",
        "1. z",
        "*b*",
        "[a](http://b)",
        "a\nb",
        "plain",
        "<!--",
    ]
)
WORDS = st.one_of(NASTY, st.tuples(NASTY, NASTY.map(blocks.Code)))
ITEMS = st.builds(
    blocks.Item, WORDS, st.lists(st.builds(blocks.Item, WORDS), max_size=2).map(tuple), st.sampled_from([None, "error"])
)
ROW = st.tuples(NASTY, NASTY)
LEAVES = st.one_of(
    st.builds(blocks.Title, WORDS),
    st.builds(blocks.Heading, WORDS),
    st.builds(blocks.Paragraph, WORDS, st.booleans()),
    st.builds(blocks.Warned, WORDS),
    st.builds(blocks.Items, st.lists(ITEMS, min_size=1, max_size=3).map(tuple), NASTY, st.booleans(), st.booleans()),
    st.builds(
        blocks.Table, st.just("Openings"), st.just((("gap", "mm"),)), st.lists(ROW, min_size=1, max_size=3).map(tuple)
    ),
    st.builds(blocks.Moments, st.lists(st.builds(blocks.Moment, NASTY, WORDS), max_size=3).map(tuple), st.just(2)),
    st.builds(
        blocks.Bars,
        st.just("Done"),
        st.lists(st.builds(blocks.Bar, st.just("w"), st.just(1), st.just(2), NASTY, NASTY), max_size=2).map(tuple),
    ),
    st.builds(blocks.Verbatim, st.lists(NASTY, max_size=3).map(tuple)),
    st.builds(
        blocks.Fault, severity=st.just("error"), message=NASTY, check=NASTY, about=NASTY, line=st.just(3), quoted=NASTY
    ),
    st.just(blocks.Rule()),
)
BLOCKS = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.builds(blocks.Fold, title=NASTY, gist=NASTY, note=NASTY, blocks=st.lists(inner, max_size=3).map(tuple)),
        st.builds(blocks.Gist, st.lists(LEAVES, max_size=2).map(tuple)),
        st.builds(blocks.Detail, st.lists(LEAVES, max_size=2).map(tuple)),
    ),
    max_leaves=6,
)  # fmt: skip


class Tags(HTMLParser):
    """The tags of a page."""

    def __init__(self, page):
        super().__init__()
        self.found = set()
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.found.add(tag)


@pytest.mark.parametrize("path", sorted(PACKAGE.glob("*.py")), ids=lambda path: path.stem)
def test_what_is_told_knows_no_format(path):
    """No module of an answer escapes, colours or breaks lines: it names no function that does, and no format."""
    tree = ast.parse(path.read_text("utf-8"))
    names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for alias in node.names}
    modules = {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert not names & ESCAPES
    assert not {m for m in modules if re.search(r"report\.(text|markdown|inert|style)$", m)}


def test_each_answer_has_its_module():
    assert len(get_args(said.Telling)) == 14
    assert all(hasattr(answer, "judges") for answer in get_args(said.Telling))


@given(st.lists(BLOCKS, max_size=5))
def test_no_block_lets_words_act(told):
    """Text holds no control sign; the page holds the tags of our own blocks and no other, by GitHub's own renderer."""
    shown = text.written(told, Style(60))
    assert not re.search("[\x00-\x09\x0b-\x1f\x7f\u202a-\u202e]", shown)
    page = cmarkgfm.github_flavored_markdown_to_html(markdown.written(told), options=Options.CMARK_OPT_UNSAFE)
    tags = Tags(page).found
    assert not tags & {"b", "script", "a", "em", "hr", "img", "h4"}


MARK = "Pinnacle"
ONE_OF_EACH = (
    blocks.Title(MARK),
    blocks.Heading(MARK),
    blocks.Paragraph((blocks.Code(MARK), " is")),
    blocks.Warned(MARK),
    blocks.Items((blocks.Item("a", (blocks.Item(MARK),)),)),
    blocks.Table("Openings", (("gap", "mm"),), (("W-1", MARK),)),
    blocks.Moments((blocks.Moment("0:00", MARK),), 5),
    blocks.Bars("Done", (blocks.Bar("walked", 1, 2, open=MARK),)),
    blocks.Picture(lambda columns: [f"{MARK} {'.' * (columns - 10)}"]),
    blocks.Verbatim((MARK,)),
    blocks.Fault(severity="error", message=MARK, check="wrong-shape", about="openings/W-1"),
    blocks.Fold(title="Part", blocks=(blocks.Paragraph(MARK),)),
    blocks.Gist((blocks.Paragraph(MARK),)),
    blocks.Detail((blocks.Paragraph(MARK),)),
)


def test_one_of_each_is_one_of_each():
    assert {*map(type, ONE_OF_EACH), blocks.Rule} == set(get_args(blocks.Block))


@pytest.mark.parametrize("block", ONE_OF_EACH, ids=lambda block: type(block).__name__)
def test_both_formats_tell_every_block(block):
    assert MARK in text.written([block])
    assert MARK in markdown.written([block])
