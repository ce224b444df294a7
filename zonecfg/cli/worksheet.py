"""``zonecfg worksheet``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import Force, write_out


def worksheet(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="Site file, or the folder of one as-designed state.")],
    output: Annotated[
        Path, typer.Option("-o", "--output", metavar="FILE", help="What to write: .xlsx, .csv or .html.")
    ],
    force: Force = False,
) -> None:
    """What the installer takes to site: a row an actuator, group, sensor and controller, in walking order.

    Exit status: 0 done, 2 not.
    """
    from zonecfg.report.text_worksheet import line
    from zonecfg.workflow.worksheet import worksheet as run

    write_out(line(output, run(path, output, force=force).tables) + "\n")
