"""What README.md shows is what the program prints; ``python tests/test_readme.py`` writes it in."""

import re
import shlex
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from zonecfg.cli.app import app

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
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


if __name__ == "__main__":
    old = README.read_text("utf-8")
    new = _BLOCK.sub(lambda m: f"<!-- output: {m['command']} -->\n```\n{printed(m['command'])}```", old)
    README.write_text(new, "utf-8")
    sys.exit(old != new)
