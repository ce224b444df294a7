"""``zonecfg review``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import FailOn, FailOnOption, Force, Format, Output, Today, day, deliver, status


def review(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Folder of one site.")],
    fmt: Format = "text",
    output: Output = None,
    fail_on: FailOnOption = FailOn.error,
    today: Today = None,
    force: Force = False,
) -> None:
    """The whole site on one page: its states, their findings, what differs, what has to be decided.

    Exit status: 0 nothing at or above --fail-on, 1 something, 2 could not run.
    """
    from zonecfg.workflow.review import review as run

    result = run(folder, day(today))
    deliver(result, fmt, output, force=force)
    raise typer.Exit(status(result.page.check.summary, fail_on))
