"""``zonecfg rehearse``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import AnswerFormat, Force, Output, deliver


def rehearse(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="Site file, as-designed or as-commissioned.")],
    wet: Annotated[
        list[str] | None,
        typer.Option("--wet", metavar="SENSOR@START..END", help="Rain, in minutes; may be given again."),
    ] = None,
    wind: Annotated[
        list[str] | None, typer.Option("--wind", metavar="SENSOR@START..END", help="Strong wind, in minutes.")
    ] = None,
    fail: Annotated[
        list[str] | None, typer.Option("--fail", metavar="SENSOR", help="A sensor that never reports.")
    ] = None,
    fire: Annotated[float | None, typer.Option("--fire", metavar="MINUTE", help="When the fire command comes.")] = None,
    start: Annotated[
        float, typer.Option("--start-open", metavar="PERCENT", help="How far every window stands open at the start.")
    ] = 100.0,
    picture: Annotated[
        Path | None, typer.Option("--picture", "-o", metavar="FILE.svg", help="Write positions over time as SVG.")
    ] = None,
    fmt: AnswerFormat = "text",
    output: Output = None,
    force: Force = False,
) -> None:
    """Play a spell of weather through links and actions: what closes when, what stays open in the rain, and why."""
    from zonecfg.errors import UnknownName
    from zonecfg.workflow.rehearse import rehearse as run

    outcome = run(path, wet=wet or (), wind=wind or (), fail=fail or (), fire_minute=fire, open_percent=start)
    if picture is not None:
        if picture.suffix.lower() != ".svg":
            raise UnknownName(f"{picture}: the picture is SVG; give it a name that ends in .svg")
        from zonecfg.report.picture import picture as draw
        from zonecfg.workflow.write import write_text

        write_text(picture, draw(outcome), force=force)
    deliver(outcome, fmt, output, force=force)
