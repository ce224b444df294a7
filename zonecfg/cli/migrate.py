"""``zonecfg migrate``."""

import sys
from pathlib import Path
from typing import Annotated

import typer


def migrate(
    paths: Annotated[list[Path], typer.Argument(metavar="PATH...", help="Site files, catalogues or folders of them.")],
) -> None:
    """Files of an older format brought to the present one, in place; comments stay.

    Exit status: 0 done, or nothing to do; 2 could not, and then nothing was written.
    """
    from zonecfg.results.signs import printable
    from zonecfg.results.words import counted
    from zonecfg.workflow.migrate import migrate as run

    changed, looked_at = run(paths)
    for name in changed:
        print(printable(name))
    done = f"{counted(len(changed), 'file')} of {looked_at} brought to the present format"
    print(done if changed else f"nothing to do: {counted(looked_at, 'file')} in the present format", file=sys.stderr)
