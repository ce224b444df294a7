"""The libraries of the ``site-work`` extra, imported where they are used."""

from importlib import import_module
from typing import Any

from zonecfg.errors import MissingExtra


def needed(module: str, what_for: str) -> Any:
    """Import a library that only some uses need.

    Raises
    ------
    MissingExtra
        It is not installed; the message names the extra that brings it.
    """
    try:
        return import_module(module)
    except ImportError:
        raise MissingExtra(f"{what_for} needs {module}: pip install 'zonecfg[site-work]'") from None
