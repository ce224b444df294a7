"""``zonecfg history``."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, Output, deliver


def history(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="A site file that git knows.")],
    about: Annotated[
        str | None, typer.Argument(metavar="[ID|FIELD]", help="A thing, by any name it ever had, or a field.")
    ] = None,
    since: Annotated[
        datetime | None, typer.Option("--since", metavar="DATE", formats=["%Y-%m-%d"], help="From this day on.")
    ] = None,
    until: Annotated[
        datetime | None, typer.Option("--until", metavar="DATE", formats=["%Y-%m-%d"], help="Up to this day.")
    ] = None,
    fmt: AnswerFormat = "text",
    output: Output = None,
    force: Force = False,
) -> None:
    """What became of a thing, fact by fact, through the commits of the repository: who, when, from what to what.

    Other names that the thing or the file had are followed. Exit status: 0 done, 2 not.
    """
    from zonecfg.workflow.history import history as run

    first, last = (None if day is None else day.date() for day in (since, until))
    deliver(run(path, about, since=first, until=last), fmt, output, force=force, reads=(path,))
