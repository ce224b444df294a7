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
    revision: Annotated[
        str | None,
        typer.Option("--against", metavar="REV", help="Compare each file with itself at REV, A..B or merge-base:REV."),
    ] = None,
    fail_on_new: Annotated[
        bool, typer.Option("--fail-on-new", help="With --against: count only findings that are new since then.")
    ] = False,
    today: Today = None,
    force: Force = False,
) -> None:
    """The whole site on one page: its states, their findings, what differs, what has to be decided.

    Exit status: 0 nothing at or above --fail-on, 1 something, 2 could not run.
    """
    from zonecfg.workflow.review import review as run

    if fail_on_new and revision is None:
        raise typer.BadParameter("--fail-on-new needs --against")
    result = run(folder, day(today), revision=revision)
    deliver(result, fmt, output, force=force)
    counted = result.page.check.summary
    if fail_on_new and result.page.against is not None:
        from zonecfg.results.finding import summarise

        counted = summarise(result.page.against.introduced)
    raise typer.Exit(status(counted, fail_on))
