"""What README.md shows is what the program prints; ``python tests/test_readme.py`` writes it in.

It also draws the picture of a comment on a pull request, from what ``review`` prints, where Chromium is installed.
"""

import re
import shlex
import shutil
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from zonecfg.cli.app import app

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
COMMENT = ROOT / "examples" / "pull-request" / "comment.md"
REVIEW = "review examples/larkenby-hall --format comment --fail-on never"
PAGE = """<!doctype html><meta charset="utf-8"><style>
body {{ font: 15px/1.5 sans-serif; width: 820px; margin: 24px auto; color: #222; }}
h1 {{ font-size: 24px; }} h2 {{ font-size: 19px; margin-top: 26px; }} li {{ margin: 3px 0; }}
code, pre {{ font: 13px monospace; background: #f1f0ec; }} pre {{ padding: 6px 10px; }}
</style>{body}"""
_BLOCK = re.compile(r"<!-- output: (?P<command>.+?) -->\n```\n(?P<shown>.*?)```", re.DOTALL)


def printed(command):
    """What a command prints, run from the top of the repository."""
    return CliRunner().invoke(app, [*shlex.split(command), "--today", "2026-11-25"]).stdout


@pytest.mark.parametrize("block", list(_BLOCK.finditer(README.read_text("utf-8"))), ids=lambda block: block["command"])
def test_output_shown_is_output_printed(block, monkeypatch):
    monkeypatch.chdir(ROOT)
    assert block["shown"] == printed(block["command"])


def test_two_commands_for_a_fresh_machine():
    text = README.read_text("utf-8")
    commands = re.findall(r"<!-- command -->\n```\n(.*?)```", text, re.DOTALL)
    assert len(commands) == 2
    assert all(command.count("\n") == 1 for command in commands)


def test_the_comment_shown_is_the_comment_written(monkeypatch):
    monkeypatch.chdir(ROOT)
    assert COMMENT.read_text("utf-8") == printed(REVIEW)
    assert COMMENT.with_suffix(".png").read_bytes().startswith(b"\x89PNG\r\n\x1a\n")
    assert COMMENT.with_suffix(".png").relative_to(ROOT).as_posix() in README.read_text("utf-8")


def draw(markdown, picture):
    """Render a comment as GitHub's own renderer does and photograph its upper part."""
    import cmarkgfm
    from cmarkgfm.cmark import Options
    from playwright.sync_api import sync_playwright

    html = cmarkgfm.github_flavored_markdown_to_html(markdown, options=Options.CMARK_OPT_UNSAFE)
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 900, "height": 1150})
        page.set_content(PAGE.format(body=html))
        page.screenshot(path=picture)
        browser.close()


if __name__ == "__main__":
    old = README.read_text("utf-8")
    new = _BLOCK.sub(lambda m: f"<!-- output: {m['command']} -->\n```\n{printed(m['command'])}```", old)
    README.write_text(new, "utf-8")
    comment = printed(REVIEW)
    if shutil.which("chromium") and (not COMMENT.exists() or comment != COMMENT.read_text("utf-8")):
        draw(comment, COMMENT.with_suffix(".png"))
    COMMENT.write_text(comment, "utf-8")
    sys.exit(old != new)
