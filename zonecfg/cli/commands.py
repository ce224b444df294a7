"""The commands by name; what is asked for is imported and built alone, since all of them take as long as a check."""

from collections.abc import Iterator, Mapping
from importlib import import_module
from typing import Any, cast

import typer
from typer.core import TyperGroup

MODULES = (
    "new",
    "draft",
    "check",
    "cure",
    "compare",
    "review",
    "rollback",
    "figures",
    "rehearse",
    "worksheet",
    "record",
    "match",
    "identify",
    "explain",
    "schema",
    "format_",
    "migrate",
    "textconv",
    "merge",
    "git_setup",
    "history",
    "completion",
)
"""Modules beside this one, each with the command's function by the same name, in the order help tells them."""


class Commands(TyperGroup):
    """The commands of the program."""

    def __init__(self, **told: Any) -> None:
        super().__init__(**told)
        self.commands = cast("Any", _Built())  # nothing is ever added to it


class _Built(Mapping[str, "typer.core.TyperCommand"]):
    """Every command by its name, built when it is first asked for."""

    def __init__(self) -> None:
        self._modules = {module.rstrip("_").replace("_", "-"): module for module in MODULES}
        self._built: dict[str, typer.core.TyperCommand] = {}

    def __getitem__(self, name: str) -> "typer.core.TyperCommand":
        module = self._modules[name]
        if name not in self._built:
            alone = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)
            alone.command(name)(getattr(import_module(f"zonecfg.cli.{module}"), module))
            self._built[name] = cast("typer.core.TyperCommand", typer.main.get_command(alone))
        return self._built[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._modules)

    def __len__(self) -> int:
        return len(self._modules)
