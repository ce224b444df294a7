"""``zonecfg check``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import (
    Executor,
    FailOn,
    FailOnOption,
    Force,
    Format,
    Jobs,
    Output,
    Shown,
    Today,
    crew,
    deliver,
    judged_day,
    status,
)


def check(
    paths: Annotated[list[Path], typer.Argument(metavar="PATH...", help="Site files, catalogues or folders of them.")],
    fmt: Format = "text",
    output: Output = None,
    fail_on: FailOnOption = FailOn.error,
    require: Annotated[
        list[str] | None,
        typer.Option(
            "--require",
            metavar="FAMILY",
            help="Exit status 1 too where a check of this family, or the check of this id, could not judge something; "
            "may be given again.",
        ),
    ] = None,
    show: Annotated[
        Shown,
        typer.Option("--show", metavar="SEVERITY", help="error, warning or note; what is less is counted."),
    ] = Shown.note,
    today: Today = None,
    force: Force = False,
    jobs: Jobs = None,
    executor: Executor = None,
) -> None:
    """Every finding of one state, or of all site folders below a path.

    Exit status: 0 nothing at or above --fail-on, 1 something, or something not checked that --require asks for, 2
    could not run.
    """
    from msgspec import structs

    from zonecfg.workflow.check import check as run
    from zonecfg.workflow.check import required, unmet

    asked = required(require or ())
    with crew(jobs, executor) as workers:
        outcome = run(paths, judged_day(today), workers)
    outcome = structs.replace(outcome, shown=show.value)
    deliver(outcome, fmt, output, force=force)
    raise typer.Exit(max(status(outcome.findings.summary, fail_on), int(unmet(outcome.findings, asked))))
