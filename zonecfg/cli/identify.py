"""``zonecfg identify``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, deliver


def identify(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="Site file, or the folder of one as-designed state.")],
    found: Annotated[
        Path,
        typer.Argument(metavar="FOUND.csv", help="Serials read from the bus; a column set names those of one sash."),
    ],
    output: Annotated[
        Path | None,
        typer.Option(
            "-o",
            "--output",
            metavar="FILE",
            help="The observer sheet (.csv, .xlsx, .html); with --seen the serials, for record (.csv, .xlsx).",
        ),
    ] = None,
    seen: Annotated[
        Path | None,
        typer.Option("--seen", metavar="SHEET", help="The filled observer sheet: .csv, .xlsx, or the page's .json."),
    ] = None,
    levels: Annotated[
        int | None,
        typer.Option(
            "--levels",
            metavar="N",
            help="Positions told apart: 2, or 3 where calibrated and 150 mm apart.",
            show_default="2",
        ),
    ] = None,
    correct: Annotated[
        int | None,
        typer.Option(
            "--correct", metavar="N", help="Misread reports corrected a window: 0 (told) or 1.", show_default="0"
        ),
    ] = None,
    isolated: Annotated[
        list[str] | None,
        typer.Option("--isolated", metavar="OPENING", help="Its actuators are cut off; may be given again."),
    ] = None,
    fmt: AnswerFormat = "text",
    force: Force = False,
) -> None:
    """A few rounds of opening that tell every unknown actuator apart, and the decoder of what was seen.

    In each round every unknown actuator goes closed or open, an observer notes each window, and the word of all rounds
    names the serial. A sheet says how it was made; with --seen its options need not be given again. Exit status: 0
    done, 2 not.
    """
    from zonecfg.report import refuse_unfit
    from zonecfg.workflow.identify import Options
    from zonecfg.workflow.identify import identify as run

    refuse_unfit(fmt, judges=False)
    options = Options(levels=levels, correct=correct, isolated=tuple(isolated) if isolated else None)
    deliver(run(path, found, options, seen=seen, output=output, force=force), fmt, None, force=force)
