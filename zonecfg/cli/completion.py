"""``zonecfg completion``, and what completes to something only this program knows."""

from enum import StrEnum
from typing import Annotated

import typer

from zonecfg.cli.options import write_out

VARIABLE = "_ZONECFG_COMPLETE"
"""Set by the shell while it asks for completions."""


class Shell(StrEnum):
    """Shells whose scripts there are."""

    bash = "bash"
    zsh = "zsh"
    fish = "fish"


def completion(
    shell: Annotated[Shell, typer.Argument(metavar="SHELL", help="Which shell: bash, zsh or fish.")],
) -> None:
    """The script that makes a shell complete commands, options, checks and fields.

    For bash: zonecfg completion bash > ~/.local/share/bash-completion/completions/zonecfg
    """
    from typer.completion import get_completion_script  # type: ignore[attr-defined]

    write_out(get_completion_script(prog_name="zonecfg", complete_var=VARIABLE, shell=shell.value) + "\n")


def answer_shells() -> None:
    """Teach the shell's completion the scripts that ``completion`` prints."""
    from typer.completion import completion_init  # type: ignore[attr-defined]

    completion_init()


def explained(incomplete: str) -> list[tuple[str, str]]:
    """Give the checks, fields and rule sets that begin like this, each with its title."""
    from zonecfg.workflow.explain import names

    return [(name, title) for name, title in names().items() if name.startswith(incomplete)]
