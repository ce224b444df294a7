"""``zonecfg textconv``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import write_out


def textconv(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The file that git is about to compare.")],
) -> None:
    """A file as lines, one a fact, in one order: what git compares once git-setup was run.

    Order, style and comments have no influence. A file that cannot be read comes as its own text, with the reason in
    the first line. Exit status: 0 done, 2 the file cannot be opened.
    """
    from zonecfg.workflow.textconv import textconv as run

    write_out(run(file))
