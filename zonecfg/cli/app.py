"""Puts the commands together and turns every way of ending into an exit status."""

import gc
import os
import sys

import typer

from zonecfg.cli import check, compare, explain, figures, new, rehearse, review, rollback, schema
from zonecfg.errors import ZonecfgError

app = typer.Typer(
    name="zonecfg",
    help="Motorised windows as files: checked, computed, compared and reviewed like code.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
for command in (
    new.new,
    check.check,
    compare.compare,
    review.review,
    rollback.rollback,
    figures.figures,
    rehearse.rehearse,
    explain.explain,
    schema.schema,
):
    app.command()(command)


def main() -> None:
    """Run the command line; 2 is the status of everything that could not run."""
    gc.disable()  # one command and out; a collection would only walk the plan again and again
    try:
        app(prog_name="zonecfg")
    except ZonecfgError as error:
        print(f"zonecfg: {error}", file=sys.stderr)
        sys.exit(error.exit_code)
    except BrokenPipeError:
        # Whoever read our output has enough of it; keep the interpreter from complaining when it closes it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(2)
    except Exception as error:
        if os.environ.get("ZONECFG_TRACEBACK"):
            raise
        kind = type(error).__name__
        print(
            f"zonecfg: internal failure ({kind}: {error}); this is a defect. "
            "Set ZONECFG_TRACEBACK=1 and run again to see where.",
            file=sys.stderr,
        )
        sys.exit(2)
