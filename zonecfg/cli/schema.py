"""``zonecfg schema``."""

import sys
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import Force, write_out


class Kind(StrEnum):
    """The schemas there are."""

    site = "site"
    catalogue = "catalogue"
    findings = "findings"
    changes = "changes"
    figures = "figures"
    review = "review"
    rollback = "rollback"
    rehearsal = "rehearsal"
    match = "match"


def schema(
    kind: Annotated[Kind, typer.Argument(help="Which schema: of a file people write, or of an answer.")] = Kind.site,
    output: Annotated[
        Path | None, typer.Option("-o", "--output", metavar="FOLDER", help="Write all of them into a folder instead.")
    ] = None,
    force: Force = False,
) -> None:
    """The JSON Schemas, for an editor.

    With -o all are written, and each plan that new or record makes below points to them in its first line.
    """
    from zonecfg.report.inert import printable
    from zonecfg.workflow.schemas import MODELINE, text_of, write_schemas

    if output is None:
        write_out(text_of(kind.value))
        return
    for path in write_schemas(output, force=force):
        print(printable(path.as_posix()))
    line = f"{MODELINE}{output.name}/{Kind.site.value}.schema.json"
    print(printable(f"a site file beside {output.name} begins with: {line}"), file=sys.stderr)
