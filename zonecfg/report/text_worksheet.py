"""What ``worksheet`` says once it has written."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from zonecfg.report.inert import printable
from zonecfg.results.words import counted, listed


def line(path: Path, tables: Mapping[str, Sequence[Any]]) -> str:
    """Name the file and count its rows."""
    rows = listed(counted(len(rows), name.removesuffix("s")) for name, rows in tables.items())
    return printable(f"{path.as_posix()}: {rows}.")
