"""``zonecfg new``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import Force


def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Folder to make the site in.")],
    force: Force = False,
) -> None:
    """A small commented site that passes, to start from."""
    from zonecfg.results.signs import printable
    from zonecfg.workflow.new import new as run

    for path in run(folder, force=force):
        print(printable(path.as_posix()))
