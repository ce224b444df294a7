"""``zonecfg figures``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, Output, deliver


def figures(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="Site file, or the folder of one that has one state.")],
    working: Annotated[
        list[str] | None,
        typer.Option(
            "--working",
            metavar="SECTION/ID",
            help="Show how the figures of a thing are worked out: formula, numbers, source; may be given again.",
        ),
    ] = None,
    fmt: AnswerFormat = "text",
    output: Output = None,
    force: Force = False,
) -> None:
    """Everything computed: angles, gaps, areas, forces, voltages, currents, bus loads, closing times.

    Faults of the plan do not stop it: what they touch is not computed, and said so. Exit status: 0 done, 2 not.
    """
    from zonecfg.workflow.figures import figures as run

    deliver(run(path, tuple(working or ())), fmt, output, force=force)
