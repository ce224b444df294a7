"""``zonecfg draft``."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, deliver


class SizeUnit(StrEnum):
    """Units of sizes."""

    mm = "mm"
    cm = "cm"
    m = "m"
    inch = "in"


class SizeOrder(StrEnum):
    """Which of two sizes in a cell comes first."""

    width_height = "width-height"
    height_width = "height-width"


def draft(
    schedules: Annotated[list[Path], typer.Argument(metavar="SCHEDULE...", help="Window schedules: csv, xlsx, ods.")],
    output: Annotated[
        Path | None, typer.Option("-o", "--output", metavar="FOLDER", help="Where as-designed.yaml goes.")
    ] = None,
    update: Annotated[
        Path | None, typer.Option("--update", metavar="PLAN", help="Bring a newer schedule into a plan, in place.")
    ] = None,
    name: Annotated[str | None, typer.Option("--name", metavar="NAME", help="What the site is called.")] = None,
    unit: Annotated[
        SizeUnit | None, typer.Option("--unit", metavar="UNIT", help="Of bare sizes: mm, cm, m or in.")
    ] = None,
    size_order: Annotated[
        SizeOrder | None,
        typer.Option("--size-order", metavar="ORDER", help="Of two sizes in a cell: width-height or height-width."),
    ] = None,
    room: Annotated[
        str | None, typer.Option("--room", metavar="NAME", help="The room of windows whose row says none.")
    ] = None,
    sheet: Annotated[str | None, typer.Option("--sheet", metavar="NAME", help="The sheet of a workbook.")] = None,
    fmt: AnswerFormat = "text",
    force: Force = False,
) -> None:
    """A plan from a window schedule: each value with its origin, what is missing listed, nothing guessed.

    Where unit, order of sizes or room are said nowhere, the option that says them is named. Exit status: 0 done, 2
    not, and then nothing was written.
    """
    from zonecfg.drafting.schedule import DraftOptions
    from zonecfg.errors import Undecided
    from zonecfg.workflow.draft import draft as run

    if (output is None) == (update is None):
        raise Undecided("name a folder with -o, or a plan with --update")
    options = DraftOptions(unit and unit.value, size_order and size_order.value, room, sheet)
    answer = run(schedules, output or Path(), options, name=name, update=update, force=force)
    deliver(answer, fmt, None, force=force)
