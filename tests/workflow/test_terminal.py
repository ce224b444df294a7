"""What standard output looks like on a terminal, in a pipe, and where signs cannot be shown."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from marked_examples import ROOT as EXAMPLES

PATH = EXAMPLES / "actuator-without-group" / "bad.yaml"
ESCAPE = "\x1b"


def environment(**extra):
    kept = {
        k: v
        for k, v in os.environ.items()
        if k not in {"NO_COLOR", "FORCE_COLOR", "TERM", "COLUMNS", "PYTHONIOENCODING"}
    }
    return {**kept, **extra}


def piped(*arguments, **extra):
    done = subprocess.run(
        [sys.executable, "-m", "zonecfg", *map(str, arguments)],
        capture_output=True,
        check=False,
        env=environment(**extra),
    )
    return done.stdout


def on_terminal(*arguments, **extra):
    """Run on a pseudo-terminal and give what it would show."""
    pty = pytest.importorskip("pty")
    master, slave = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "zonecfg", *map(str, arguments)], stdin=slave, stdout=slave, stderr=slave,
        env=environment(**extra), close_fds=True,
    )  # fmt: skip
    os.close(slave)
    shown = b""
    try:
        while piece := os.read(master, 65_536):
            shown += piece
    except OSError:  # Linux says so when the other side is closed
        pass
    os.close(master)
    process.wait(timeout=30)
    return shown.decode()


def test_colours_on_a_terminal():
    assert ESCAPE in on_terminal("check", PATH, TERM="xterm-256color")


@pytest.mark.parametrize("extra", [{"TERM": "dumb"}, {"TERM": "xterm", "NO_COLOR": "1"},
                                   {"TERM": "xterm", "NO_COLOR": "1", "FORCE_COLOR": "1"}], ids=str)  # fmt: skip
def test_no_colours_where_they_are_not_wanted(extra):
    """no-color.org: set and not empty, whatever its value; a dumb terminal obeys no escapes."""
    assert ESCAPE not in on_terminal("check", PATH, **extra)


def test_an_empty_no_color_says_nothing():
    """no-color.org: *when present and not an empty string*."""
    assert ESCAPE in on_terminal("check", PATH, TERM="xterm", NO_COLOR="")


def test_a_pipe_has_no_colours_unless_asked():
    assert ESCAPE.encode() not in piped("check", PATH)
    assert ESCAPE.encode() in piped("check", PATH, FORCE_COLOR="1")
    assert ESCAPE.encode() not in piped("check", PATH, FORCE_COLOR="1", NO_COLOR="1")


@pytest.mark.parametrize("fmt", ["json", "markdown"])
def test_other_formats_are_never_coloured(fmt):
    assert ESCAPE.encode() not in piped("check", PATH, "--format", fmt, FORCE_COLOR="1")


def test_colours_add_nothing_but_colours():
    """Taken out again, the text is the same: nothing is said by colour alone."""
    import re

    plain, coloured = piped("check", PATH), piped("check", PATH, FORCE_COLOR="1")
    assert re.sub(rb"\x1b\[[0-9;]*m", b"", coloured) == plain


def test_lines_fit_a_pipe_of_eighty_columns():
    for line in piped("check", PATH).decode().splitlines():
        assert len(line) <= 80, line


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252"])
def test_what_cannot_be_encoded_is_written_otherwise(encoding):
    shown = piped("check", PATH, PYTHONIOENCODING=encoding)
    assert b"actuator-without-group" in shown
    shown.decode(encoding)


def test_a_reader_that_has_enough_ends_it_quietly():
    """``zonecfg check … | head -1`` prints no complaint."""
    process = subprocess.Popen(
        [sys.executable, "-m", "zonecfg", "check", str(EXAMPLES)], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        env=environment(),
    )  # fmt: skip
    process.stdout.read(10)
    process.stdout.close()
    complaint = process.stderr.read()
    process.stderr.close()
    process.wait(timeout=30)
    assert complaint == b""


class TestStartUp:
    """Start-up is a feature: each command imports what it uses."""

    HEAVY = ("yaml", "ruamel", "jsonschema", "jsonschema_rs", "networkx", "numpy", "scipy", "rich", "hypothesis")

    @staticmethod
    def modules(*arguments):
        """Give the top-level modules that a run has imported."""
        program = (
            "import sys\nfrom zonecfg.cli.app import run\nrun()\n"
            "sys.stderr.write(' '.join(sorted({name.split('.')[0] for name in sys.modules})))"
        )
        done = subprocess.run(
            [sys.executable, "-c", program, *map(str, arguments)],
            capture_output=True,
            text=True,
            check=True,
            env=environment(),
        )
        return set(done.stderr.split())

    @pytest.mark.parametrize("arguments", [["--help"], ["check", "--help"], ["explain", "--help"], ["new", "--help"]])
    def test_help_imports_no_library_but_its_own(self, arguments):
        """Typer, Click and what they bring, and the standard library; nothing else."""
        loaded = self.modules(*arguments)
        assert not loaded & {*self.HEAVY, "msgspec"}
        outside = {name for name in loaded if name not in sys.stdlib_module_names and not name.startswith(("_", "$"))}
        allowed = {
            "zonecfg",
            "typer",
            "click",
            "shellingham",
            "typing_extensions",
            "annotated_doc",
            "sitecustomize",
            "usercustomize",
            "coverage",  # where the tests are measured
        }
        assert outside <= allowed

    def test_check_of_a_clean_plan_asks_no_graph_library(self):
        loaded = self.modules("check", EXAMPLES / "group-empty" / "good.yaml")
        assert not loaded & {"networkx", "ruamel", "jsonschema", "rich", "numpy", "scipy"}

    @pytest.mark.parametrize("arguments", [["explain", "group-empty"], ["schema"]])
    def test_words_only(self, arguments):
        assert not self.modules(*arguments) & {"networkx", "ruamel", "jsonschema", "rich"}


def test_version(zonecfg):
    """The version that pyproject.toml gives the package."""
    pyproject = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text("utf-8"))
    assert zonecfg("--version") == (0, f"zonecfg {pyproject['project']['version']}\n", "")
