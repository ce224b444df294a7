"""``zonecfg cure``."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from zonecfg.cli.options import Force, Format, Output, Today, deliver, judged_day

if TYPE_CHECKING:
    from zonecfg.results.finding import Cure, Finding


def cure(
    paths: Annotated[list[Path], typer.Argument(metavar="PATH...", help="Site files or folders of them.")],
    write: Annotated[bool, typer.Option("--write", help="Change the files; comments stay.")] = False,
    only: Annotated[
        str | None, typer.Option("--only", metavar="CHECK", help="Cure what this check finds, and nothing else.")
    ] = None,
    at: Annotated[
        str | None,
        typer.Option("--at", metavar="PLACE", help="Cure what stands there: a JSON Pointer, or a thing as printed."),
    ] = None,
    fmt: Format = "text",
    output: Output = None,
    today: Today = None,
    force: Force = False,
) -> None:
    """What a machine can cure, shown as the lines that change; nothing that safety hangs on.

    A cure is made only where its finding is then gone and nothing else is new or worse. A figure that looks like a
    slip by a thousand is asked about at a terminal, or cured where --only names its check. Exit status: 0 nothing to
    cure, or written; 1 something to cure, without --write; 2 could not, and then nothing was written.
    """
    from zonecfg.checks.registry import entry
    from zonecfg.workflow.cure import Chosen
    from zonecfg.workflow.cure import cure as run

    if only is not None:
        entry(only)
    asks = _ask if sys.stdin.isatty() and sys.stderr.isatty() else None
    answer = run(paths, judged_day(today), Chosen(only, at, asks), write=write)
    deliver(answer, fmt, output, force=force)
    raise typer.Exit(int(not write and any(file.made for file in answer.files)))


def _ask(found: "Finding", cure: "Cure") -> bool:
    from zonecfg.results.signs import printable

    return typer.confirm(printable(f"{found.message}: {cure.text}"), default=False, err=True)
