"""``zonecfg figures``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, Output, deliver


def figures(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="Site file, or the folder of one that has one state.")],
    fmt: AnswerFormat = "text",
    output: Output = None,
    force: Force = False,
) -> None:
    """Everything computed: angles, gaps, areas, forces, voltages, currents, bus loads, closing times.

    Faults of the plan do not stop it: what they touch is not computed, and said so. Exit status: 0 done, 2 not.
    """
    from zonecfg.workflow.figures import figures as run

    deliver(run(path), fmt, output, force=force)
