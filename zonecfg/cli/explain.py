"""``zonecfg explain``."""

from typing import Annotated

import typer

from zonecfg.cli.options import style, write_out


def explain(
    name: Annotated[
        str | None, typer.Argument(metavar="[CHECK or FIELD]", help="A check id, or a field such as openings.drop_mm.")
    ] = None,
) -> None:
    """A check: why, wrong, right, source. A field: meaning, unit, bounds, an example. Alone: the list of both."""
    from zonecfg.report.text_explain import catalogue_lines, check_lines, field_lines
    from zonecfg.results.guide import Field, Guide
    from zonecfg.workflow.explain import explain as run

    answer = run(name)
    look = style()
    if isinstance(answer, Guide):
        lines = catalogue_lines(answer, look)
    elif isinstance(answer, Field):
        lines = field_lines(answer, look)
    else:
        lines = check_lines(answer, look)
    write_out("\n".join(lines).rstrip() + "\n")
