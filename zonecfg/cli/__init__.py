"""The command line: arguments in, text and exit status out."""

from zonecfg.cli.app import main

__all__ = ["main"]
