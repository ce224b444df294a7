"""Runs the command that is asked for and turns every way of ending into an exit status."""

import os
import sys
from pathlib import Path
from typing import Annotated

import typer

from zonecfg import __version__
from zonecfg.cli import completion
from zonecfg.cli.commands import Commands
from zonecfg.errors import ZonecfgError

app = typer.Typer(
    name="zonecfg",
    cls=Commands,
    help="Motorised windows as files: checked, computed, compared and reviewed like code.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)


def _tell_version(asked: bool) -> None:
    if asked:
        print(f"zonecfg {__version__}")
        raise typer.Exit


@app.callback()
def top(
    version: Annotated[
        bool, typer.Option("--version", callback=_tell_version, is_eager=True, help="Say which version this is.")
    ] = False,
) -> None:
    """Take what stands before any command."""


def main() -> None:
    """Run the command line and end the process.

    Ends it at once: a large plan is hundreds of thousands of small values, and taking them down one by one at the end
    costs a tenth of the run for nothing.
    """
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:  # closed by whoever called
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115  (open to the end)
    status = run()
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except OSError:
        status = 2
    os._exit(status)


def run() -> int:
    """Run the command line and give its status; 2 is that of everything that could not run."""
    if completion.VARIABLE in os.environ:
        completion.answer_shells()
    try:
        app(prog_name="zonecfg")
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else int(ended.code is not None)
    except ZonecfgError as error:
        _complain(str(error))
        return error.exit_code
    except BrokenPipeError:
        # Whoever read our output has enough of it; what is left goes nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 2
    except OSError as error:
        _complain(f"{error.filename or 'output'}: {error.strerror or error}")
        return 2
    except Exception as error:
        if os.environ.get("ZONECFG_TRACEBACK"):
            raise
        kind = type(error).__name__
        _complain(
            f"internal failure ({kind}: {error}); this is a defect. Set ZONECFG_TRACEBACK=1 and run again to see where."
        )
        return 2
    return 0


def _complain(words: str) -> None:
    """Tell a person on standard error, signs that would steer a terminal by their number."""
    from zonecfg.results.signs import printable

    print(f"zonecfg: {printable(words)}", file=sys.stderr)
