"""Markdown that is made to fit a comment (65,536 characters) or a step summary (1 MiB), as GitHub documents them."""

import re
from html.parser import HTMLParser

import cmarkgfm
import pytest
from cmarkgfm.cmark import Options
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from test_formats import NASTY, a_finding, of

from zonecfg.report import render
from zonecfg.report.comment import MARK
from zonecfg.report.fit import COMMENT, SUMMARY, fitted
from zonecfg.results.finding import NotChecked


def many(number, files=1, size=1):
    """Findings with long messages, in the order of several files."""
    return of(
        *(
            replace(a_finding(number=n + 1, message=f"{NASTY} " * size), file=f"site-{n * files // number:04}.yaml")
            for n in range(number)
        )
    )


class Balance(HTMLParser):
    """Counts what is open, and fails where something closes that is not."""

    def __init__(self):
        super().__init__()
        self.open, self.most = [], 0

    def handle_starttag(self, tag, attrs):
        if tag not in {"br", "hr", "img", "input"}:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def balanced(markdown):
    html = cmarkgfm.github_flavored_markdown_to_html(markdown, options=Options.CMARK_OPT_UNSAFE)
    parser = Balance()
    parser.feed(html)
    assert parser.open == []
    return html


@pytest.mark.parametrize(("number", "files", "size"), [(3, 1, 1), (400, 20, 1), (3000, 1, 2), (2000, 2000, 1)])
def test_a_comment_fits_and_stays_whole(number, files, size):
    outcome = many(number, files, size)
    text = render("comment", outcome)
    assert len(text) <= len(text.encode()) <= COMMENT
    html = balanced(text)
    assert f"{number} errors" in html  # the counts are never what is left out
    whole = render("markdown", outcome)
    if len(whole.encode()) <= COMMENT:
        assert text == f"{MARK}\n{whole}"
    else:
        assert "so that this fits here" in text


def test_a_step_summary_fits():
    """GitHub drops a summary of more than 1 MiB whole."""
    outcome = many(30_000, 50)
    text = render("markdown", outcome)
    assert len(text.encode()) <= SUMMARY
    balanced(text)
    assert "fits here" in text


def test_the_last_parts_are_folded_first_and_named():
    outcome = many(300, 6)
    text = render("comment", outcome)
    shown = [line for line in text.splitlines() if line.startswith("<details")]
    folded = [line for line in text.splitlines() if line.endswith("(not shown here)")]
    assert shown
    assert folded
    assert text.index(shown[-1]) < text.index(folded[0])
    assert len(shown) + len(folded) == 6
    assert f"{len(folded)} part" in text.splitlines()[-1]


def test_what_was_not_checked_goes_before_findings_do():
    reasons = [NotChecked(check=f"check-{n}", file="a.yaml", because=f"{n} " + "b " * 200) for n in range(300)]
    text = render("comment", of(a_finding(), not_checked=reasons))
    assert "a message" in text
    assert "300 reasons (not shown here)" in text


PARTS = st.lists(
    st.one_of(
        st.text(alphabet="ab `~<>\n", max_size=40).map(lambda t: " ".join(t.split()) or "x"),
        st.lists(st.text(alphabet="cd#", min_size=1, max_size=30), min_size=1, max_size=4).map(
            lambda lines: "```yaml\n" + "\n\n".join(lines) + "\n```"
        ),
        st.lists(st.text(alphabet="ef ", max_size=60), min_size=1, max_size=6).map(
            lambda lines: (
                "<details><summary>sum</summary>\n\n" + "\n\n".join(f"- {x}" for x in lines) + "\n\n</details>"
            )
        ),
    ),
    max_size=12,
)


@given(PARTS, st.integers(450, 900))
def test_whole_parts_only(parts, most):
    """Whatever is kept is one of the parts, in order; a folded part leaves its summary."""
    parts = [re.sub("[`~<>]", "", p) if not p.startswith(("```", "<details")) else p for p in parts]
    text = "\n\n".join(parts) + "\n"
    answer = fitted(text, most)
    if len(text.encode()) <= most:
        assert answer == text
        return
    assert len(answer.encode()) <= most
    *kept, said = answer.rstrip("\n").rsplit("\n\n", 1)
    assert "so that this fits here" in said
    position = 0
    rest = kept[0] if kept else ""
    for part in parts:
        for form in (part, "- sum (not shown here)"):
            if rest and rest.startswith(form, position):
                position += len(form) + 2
                break
    assert position >= len(rest)
