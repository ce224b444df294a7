"""``zonecfg merge``."""

import sys
from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import Force, Today, judged_day


def merge(
    base: Annotated[Path, typer.Argument(metavar="BASE", help="The file that both sides began with.")],
    ours: Annotated[Path, typer.Argument(metavar="OURS", help="Our side; its order and comments stay.")],
    theirs: Annotated[Path, typer.Argument(metavar="THEIRS", help="The other side.")],
    output: Annotated[Path, typer.Option("-o", "--output", metavar="FILE", help="The merged file; may be OURS.")],
    marker_size: Annotated[
        int, typer.Option("--marker-size", metavar="N", min=1, max=1000, help="Signs a marker has.")
    ] = 7,
    path: Annotated[
        Path | None, typer.Option("--path", metavar="PATH", help="Where the file has its place, for its catalogues.")
    ] = None,
    label_ours: Annotated[
        str, typer.Option("--label-ours", metavar="NAME", help="What markers call our side, such as a branch.")
    ] = "ours",
    label_theirs: Annotated[
        str, typer.Option("--label-theirs", metavar="NAME", help="What markers call the other side.")
    ] = "theirs",
    today: Today = None,
    force: Force = False,
) -> None:
    """Two sides of a plan put together by id, field and member, not by line; git's merge driver once set up.

    What both changed, and not alike, stands between conflict markers and is told on standard error. So is every
    finding that our side had not. Exit status: 0 merged, 1 with conflicts, 2 could not, and then nothing was written.
    """
    from zonecfg.report.said.merge import blocks
    from zonecfg.report.text import written
    from zonecfg.workflow.merge import merge_files

    labels = (_label(label_ours, "ours"), _label(label_theirs, "theirs"))
    answer = merge_files(
        base, ours, theirs, output, judged_day(today), path=path, marker_size=marker_size, labels=labels, force=force
    )
    sys.stderr.write(written(told) if (told := list(blocks(answer))) else "")
    raise typer.Exit(int(not answer.clean))


def _label(name: str, usual: str) -> str:
    """Take a name on one line; an older git leaves its placeholders as they are."""
    words = " ".join(name.split())
    return usual if not words or words in ("%X", "%Y") else words[:100]
