"""``zonecfg compare``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import Force, Format, Output, Today, deliver, judged_day


def compare(
    before: Annotated[Path, typer.Argument(metavar="BEFORE", help="Site file of the earlier state.")],
    after: Annotated[Path, typer.Argument(metavar="AFTER", help="Site file of the later state.")],
    fmt: Format = "text",
    output: Output = None,
    today: Today = None,
    force: Force = False,
) -> None:
    """What changed, what it means, and which findings it brings or clears.

    Exit status: 0 the same, 1 different, 2 could not run.
    """
    from zonecfg.workflow.compare import compare as run

    comparison = run(before, after, judged_day(today))
    deliver(comparison, fmt, output, force=force)
    raise typer.Exit(int(bool(comparison.changes.changes)))
