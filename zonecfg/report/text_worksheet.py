"""What ``worksheet`` says once it has written."""

from collections.abc import Iterator

from zonecfg.report.style import Style
from zonecfg.results.signs import printable
from zonecfg.results.words import counted, listed
from zonecfg.results.written import Written


def lines(written: Written, _style: Style) -> Iterator[str]:
    """Name the file and count its rows."""
    yield printable(said(written))


def said(written: Written) -> str:
    """Give what is said."""
    rows = listed(counted(count, name.removesuffix("s")) for name, count in written.rows.items())
    return f"{written.path}: {rows}."
