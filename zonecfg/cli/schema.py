"""``zonecfg schema``."""

import sys
from pathlib import Path
from typing import Annotated

import typer

from zonecfg.cli.options import Force, write_out


def schema(
    kind: Annotated[
        str, typer.Argument(metavar="[KIND]", help="Which schema: site, catalogue, or of an answer: findings.")
    ] = "site",
    output: Annotated[
        Path | None, typer.Option("-o", "--output", metavar="FOLDER", help="Write all of them into a folder instead.")
    ] = None,
    force: Force = False,
) -> None:
    """The JSON Schemas, for an editor.

    With -o all are written, and each plan that new or record makes below points to them in its first line.
    """
    from zonecfg.results.signs import printable
    from zonecfg.workflow.schemas import MODELINE, text_of, write_schemas

    if output is None:
        write_out(text_of(kind))
        return
    for path in write_schemas(output, force=force):
        print(printable(path.as_posix()))
    name = output.resolve().name
    line = f"{MODELINE}{name}/site.schema.json"
    print(printable(f"a site file beside {name} begins with: {line}"), file=sys.stderr)
