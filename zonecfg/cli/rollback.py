"""``zonecfg rollback``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, Output, Today, deliver, judged_day


def rollback(
    now: Annotated[Path, typer.Argument(metavar="NOW", help="The as-commissioned file: what stands.")],
    to: Annotated[list[Path], typer.Option("--to", metavar="COPY", help="A saved copy; may be given again.")],
    design: Annotated[
        Path | None, typer.Option("--design", help="The as-designed file, for going there by hand.")
    ] = None,
    minutes: Annotated[
        Path | None, typer.Option("--minutes", help="JSON with rough minutes of each kind of step, in place of ours.")
    ] = None,
    way: Annotated[
        int | None,
        typer.Option("--way", metavar="N", help="Only the way that is listed Nth, as a work order with boxes to tick."),
    ] = None,
    fmt: AnswerFormat = "text",
    output: Output = None,
    today: Today = None,
    force: Force = False,
) -> None:
    """Every way back: what each would lose, re-test and leave without rain closing, and the steps in a safe order.

    Nothing is written to equipment; a person decides.
    """
    from zonecfg.workflow.rollback import rollback as run

    answer = run(now, to, judged_day(today), design=design, minutes=minutes, way=way)
    deliver(answer, fmt, output, force=force, reads=(now, *to, design, minutes))
