"""Words from a plan on a terminal and on a page: shown, never obeyed."""

import html
import json
import re
from collections import Counter
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sites import as_yaml

from zonecfg.report import FORMATS, render
from zonecfg.report.inert import code_span, in_markdown
from zonecfg.report.style import Style
from zonecfg.report.text import render as render_text
from zonecfg.results.signs import printable
from zonecfg.workflow.check import check

TODAY = date(2026, 11, 25)
WORDS = (
    "\x1b[31mred\x1b[0m", "\x1b]8;;http://example.org\x07link\x1b]8;;\x07", "bell\x07", "back\b\b\bspace",
    "two\nlines", "cr\rback",
    "\u202eesrever", "\u2066hidden\u2069", "zero\u200bwidth", "line\u2028separator", "nul\x00", "\x9b31m", "\ufeffmark",
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "</details></summary>", "<!-- gone", "&lt;b&gt;",
    "&#x3c;b&#x3e;",
    "[link](http://example.org)", "![image](http://example.org/x.png)", "[ref]: http://example.org", "http://example.org",
    "www.example.org", "me@example.org", "@everyone", "#1", "GH-1", "a/b#1", "**bold**", "__bold__", "~~gone~~",
    "`code`", "``` fence",
    "```", "~~~", "| a | b |", "|---|", "# heading", "> quote", "- item", "1. item", "---", "***", "===",
    "    indented", "\\*", "$x$",
    "$$x$$", ":smile:", "- [ ] task", "[^1]", "<http://example.org>", "::error::fake", "${{ secrets.x }}", "=1+1", "😀",
    "é", "a\tb",
)  # fmt: skip
BASE = {
    "format": "zonecfg-site/1", "state": "as-designed", "site": {"name": "Larkenby Hall"},
    "rooms": {"hall": {"use": "teaching"}},
}  # fmt: skip
# Controls but the new line, and the signs that turn or hide text.
HARMFUL = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]")


def hostile(word: str) -> dict:
    """A plan that says a word wherever words can stand, keys and ids too, each with a fault that repeats it."""
    return {
        **BASE,
        "site": {"name": word, word or "x": 1, "rules": {"falls": word or "x"}},
        "rooms": {"hall": {"use": word, "name": word}, word or "y": {}},
        "openings": {"W-01": {"room": word, "type": word}},
        "groups": {"G": {"name": word, "actuators": [word]}},
        "accepted": [{"check": word, "at": "/" + word, "because": word, "by": word}],
        "x-own": {word: word},
    }


def outcome_of(tmp_path: Path, word: str):
    file = tmp_path / "as-designed.yaml"
    file.write_text(as_yaml(hostile(word)), "utf-8")
    return check([file], TODAY)


@pytest.mark.parametrize("word", WORDS, ids=ascii)
def test_text_obeys_nothing(tmp_path, word):
    """No control reaches a terminal, in messages and in the lines that are quoted."""
    shown = render_text(outcome_of(tmp_path, word), Style(80, colour=False))
    assert not HARMFUL.search(shown)


@pytest.mark.parametrize("word", WORDS, ids=ascii)
def test_colours_are_ours_alone(tmp_path, word):
    shown = render_text(outcome_of(tmp_path, word), Style(80, colour=True))
    assert not HARMFUL.search(re.sub(r"\x1b\[[0-9;]*m", "", shown))
    assert shown.count("\x1b[0m") == len(re.findall(r"\x1b\[[1-9][0-9;]*m", shown))


class Tags(HTMLParser):
    """Counts the tags of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: Counter[str] = Counter()
        self.links: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.found[tag] += 1
        self.links += [value or "" for name, value in attrs if name in {"href", "src"}]


def rendered(markdown: str) -> str:
    """Render as a forge does: CommonMark with tables, strikethrough and raw HTML let through."""
    markdown_it = pytest.importorskip("markdown_it")
    return markdown_it.MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"]).render(markdown)


@pytest.mark.parametrize("word", WORDS, ids=ascii)
def test_markdown_shows_words_as_they_are(tmp_path, word):
    """A real renderer finds the tags of our own page and no other, and no link at all."""
    page = Tags(rendered(render("markdown", outcome_of(tmp_path, word))))
    assert set(page.found) <= {"h2", "h3", "p", "ul", "li", "strong", "code", "pre", "details", "summary"}
    assert page.links == []
    assert page.found["h2"] == 1
    assert page.found["details"] <= 2


@pytest.mark.parametrize("word", WORDS, ids=ascii)
def test_markdown_has_nothing_that_only_a_forge_would_turn_into_a_link(tmp_path, word):
    """Mentions and bare addresses are GitHub's own additions: outside code no @, no :// and no www. is left to find."""
    text = render("markdown", outcome_of(tmp_path, word))
    prose = re.sub(r"(?ms)^ *(`{3,})[^\n]*\n.*?^ *\1$", "", text)
    prose = re.sub(r"(`+)(?!`).+?(?<!`)\1(?!`)", "", prose)
    assert "@" not in prose
    assert "://" not in prose
    assert not re.search(r"(?<![\\\w])www\.", prose)


@settings(max_examples=300)
@given(st.one_of(st.text(max_size=20), st.lists(st.sampled_from(WORDS), max_size=3).map(" ".join)))
def test_any_word_in_a_paragraph(word):
    """What the renderer shows of it is the word itself, apart from white space."""
    page = rendered(f"before {in_markdown(word)} after\n")
    assert set(Tags(page).found) == {"p"}
    shown = html.unescape(re.sub(r"<[^>]*>", "", page)).split()
    assert shown == ["before", *printable(word).split(), "after"]


@settings(max_examples=300)
@given(st.one_of(st.text("`ab <&\n", max_size=12), st.text(max_size=12)))
def test_any_word_as_code(word):
    page = rendered(f"before {code_span(word)} after\n")
    assert Tags(page).found == Counter({"p": 1, "code": 1})


def test_json_holds_words_as_they_are(tmp_path):
    """JSON is for programs: escaped as JSON asks, and nothing else done to it."""
    answer = json.loads(render("json", outcome_of(tmp_path, "\x1b[31m<b>")))
    assert any("\x1b[31m<b>" in finding["message"] for finding in answer["findings"])


@pytest.mark.parametrize("word", WORDS, ids=ascii)
def test_other_formats_stay_what_they_are(tmp_path, word):
    """JUnit is XML, SARIF is JSON, and GitHub reads one command a line, each of our own making."""
    outcome = outcome_of(tmp_path, word)
    assert ET.fromstring(render("junit", outcome)).tag in {"testsuites", "testsuite"}  # noqa: S314  (our own)
    assert json.loads(render("sarif", outcome))["version"] == "2.1.0"
    commands = render("github", outcome).split("\n")
    assert commands.pop() == ""
    assert all(re.match(r"::(error|warning|notice) [a-zA-Z]+=[^:]*::.", command) for command in commands)
    found = [f for f in outcome.findings.findings if f.accepted is None]
    assert len(commands) <= len(found) + 1


@pytest.mark.parametrize("fmt", FORMATS)
@pytest.mark.parametrize("name", ["a`b.yaml", "<b>.yaml", "as @all.yaml", "x\u202ey.yaml", "[a](b).yaml"])
def test_names_of_files(tmp_path, monkeypatch, fmt, name):
    monkeypatch.chdir(tmp_path)
    Path(name).write_text(as_yaml({**BASE, "roms": {}}), "utf-8")
    text = render(fmt, check([Path(name)], TODAY))
    if fmt == "markdown":
        assert set(Tags(rendered(text)).found) <= {
            "h2",
            "h3",
            "p",
            "ul",
            "li",
            "strong",
            "code",
            "pre",
            "details",
            "summary",
        }
    if fmt != "json":
        assert not HARMFUL.search(text)
