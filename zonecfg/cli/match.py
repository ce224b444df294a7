"""``zonecfg match``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, Output, deliver


def match(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="Site file, as-designed or as-commissioned.")],
    found: Annotated[Path, typer.Argument(metavar="FOUND.csv", help="Serials read from the bus, one a row.")],
    fmt: AnswerFormat = "text",
    output: Output = None,
    force: Force = False,
) -> None:
    """The actuators found on the bus against the plan: counted, paired by serial, the rest listed."""
    from zonecfg.workflow.match import match as run

    deliver(run(path, found), fmt, output, force=force, reads=(path, found))
