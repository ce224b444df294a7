"""``zonecfg worksheet``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, deliver


def worksheet(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="Site file, or the folder of one as-designed state.")],
    output: Annotated[
        Path, typer.Option("-o", "--output", metavar="FILE", help="What to write: .xlsx, .csv or .html.")
    ],
    fmt: AnswerFormat = "text",
    force: Force = False,
) -> None:
    """What the installer takes to site: a row an actuator, group, sensor and controller, in walking order.

    Exit status: 0 done, 2 not.
    """
    from zonecfg.report import refuse_unfit
    from zonecfg.workflow.worksheet import worksheet as run

    refuse_unfit(fmt, judges=False)
    deliver(run(path, output, force=force), fmt, None, force=force)
