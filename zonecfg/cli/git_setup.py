"""``zonecfg git-setup``."""

from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import write_out


def git_setup(
    folder: Annotated[Path, typer.Argument(metavar="[FOLDER]", help="The repository, or a folder in it.")] = Path(),
    write: Annotated[bool, typer.Option("--write", help="Do it: .gitattributes, and the settings.")] = False,
) -> None:
    """What git needs so that diff and merge see what plans say: .gitattributes lines and settings of this clone.

    Exit status: 0 told or done, 2 not in a repository, or could not.
    """
    from zonecfg.report.said.git_setup import done, to_do
    from zonecfg.report.text import written
    from zonecfg.workflow.git_setup import git_setup as run

    answer = run(folder, write=write)
    if write:
        told = done(answer.missing, [(s.name, s.value, s.stands) for s in answer.unset])
    else:
        told = to_do(answer.lines, answer.missing, [(s.name, s.value, s.stands) for s in answer.settings])
    write_out(written([told]))
