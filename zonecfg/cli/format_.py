"""``zonecfg format``."""

import sys
from pathlib import Path
from typing import Annotated

import typer


def format_(
    paths: Annotated[list[Path], typer.Argument(metavar="PATH...", help="Site files, catalogues or folders of them.")],
    check: Annotated[bool, typer.Option("--check", help="Write nothing; tell which files are not in order.")] = False,
) -> None:
    """Sections and fields in the order the format lists them, in place; comments move with what they belong to.

    Ids and members of lists keep the order people gave them. Exit status: 0 done, or nothing to do; 1 with --check
    where a file is not in order; 2 could not, and then nothing was written.
    """
    from zonecfg.results.signs import printable
    from zonecfg.results.words import counted
    from zonecfg.workflow.format import format_files

    changed, looked_at = format_files(paths, check=check)
    for name in changed:
        print(printable(name))
    done = "not in order" if check else "put in order"
    print(f"{counted(len(changed), 'file')} of {looked_at} {done}", file=sys.stderr)
    raise typer.Exit(int(check and bool(changed)))
