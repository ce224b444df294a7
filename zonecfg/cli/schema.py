"""``zonecfg schema``."""

from enum import StrEnum
from typing import Annotated

import typer

from zonecfg.cli.options import write_out


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
) -> None:
    """The JSON Schemas, for an editor."""
    from zonecfg.schema import folder

    write_out((folder() / f"{kind.value}.schema.json").read_text("utf-8"))
