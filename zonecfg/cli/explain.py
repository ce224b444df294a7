"""``zonecfg explain``."""

from typing import Annotated

import typer

from zonecfg.cli.completion import explained
from zonecfg.cli.options import style, write_out


def explain(
    name: Annotated[
        str | None,
        typer.Argument(
            metavar="[CHECK, FIELD or RULE SET]",
            help="Such as sensor-unlinked or openings.drop_mm.",
            autocompletion=explained,
        ),
    ] = None,
) -> None:
    """A check: why, wrong, right, source. A field: meaning, unit, bounds, an example. Alone: the list of all."""
    from zonecfg.report.text_explain import catalogue_lines, check_lines, field_lines, rule_lines
    from zonecfg.results.guide import Field, Guide, RuleGuide
    from zonecfg.workflow.explain import explain as run

    answer = run(name)
    look = style()
    if isinstance(answer, Guide):
        lines = catalogue_lines(answer, look)
    elif isinstance(answer, Field):
        lines = field_lines(answer, look)
    elif isinstance(answer, RuleGuide):
        lines = rule_lines(answer, look)
    else:
        lines = check_lines(answer, look)
    write_out("\n".join(lines).rstrip() + "\n")
