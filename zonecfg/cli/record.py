"""``zonecfg record``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Today, deliver, judged_day


def record(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="The plan the sheet was made of, or its folder.")],
    sheet: Annotated[Path, typer.Argument(metavar="SHEET", help="The filled sheet: .xlsx, .csv, or the page's .json.")],
    output: Annotated[Path, typer.Option("-o", "--output", metavar="FILE", help="The as-commissioned file.")],
    any_revision: Annotated[
        bool, typer.Option("--any-revision", help="Take a sheet of another revision of the plan.")
    ] = False,
    fmt: AnswerFormat = "text",
    today: Today = None,
    force: Annotated[
        bool, typer.Option("--force", help="Make the file anew of the plan, whatever stands there.")
    ] = False,
) -> None:
    """The filled worksheet becomes the as-commissioned file; comments and order stay.

    A record of this site that stands there is brought up to date; blank cells leave it as it is. What contradicts the
    plan, or is dated later than today, is recorded and shown. Exit status: 0 done, 2 not, and then nothing was written.
    """
    from zonecfg.report import refuse_unfit
    from zonecfg.workflow.record import record as run

    refuse_unfit(fmt, judges=False)
    deliver(run(path, sheet, output, judged_day(today), force=force, any_revision=any_revision), fmt, None, force=force)
