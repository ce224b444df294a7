"""``zonecfg review``."""

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
    Today,
    crew,
    deliver,
    judged_day,
    status,
)


def review(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Folder of one site, or of many.")],
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
    jobs: Jobs = None,
    executor: Executor = None,
) -> None:
    """The whole site on one page: its states, their findings, what differs, what has to be decided.

    A tree of many sites is told in short, the worst first. Exit status: 0 nothing at or above --fail-on, 1 something,
    2 could not run.
    """
    from zonecfg.workflow.review import holds_several, reviews
    from zonecfg.workflow.review import review as run

    if fail_on_new and revision is None:
        raise typer.BadParameter("--fail-on-new needs --against")
    if holds_several(folder):
        with crew(jobs, executor) as workers:
            many = reviews(folder, judged_day(today), revision=revision, crew=workers)
        deliver(many, fmt, output, force=force)
        counted = many.check.summary
        pages = list(many.portfolio.pages.values())
    else:
        one = run(folder, judged_day(today), revision=revision)
        deliver(one, fmt, output, force=force)
        counted = one.page.check.summary
        pages = [one.page]
    if fail_on_new:
        from zonecfg.results.finding import summarise

        counted = summarise(found for page in pages if page.against for found in page.against.news(page.check.findings))
    raise typer.Exit(status(counted, fail_on))
