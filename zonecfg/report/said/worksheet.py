"""What ``worksheet`` says once it has written."""

from collections.abc import Iterator

from zonecfg.report.blocks import Block, Paragraph
from zonecfg.results.words import counted, listed
from zonecfg.results.written import Written


def blocks(written: Written) -> Iterator[Block]:
    """Name the file and count its rows."""
    rows = listed(counted(count, name.removesuffix("s")) for name, count in written.rows.items())
    yield Paragraph(f"{written.path}: {rows}.", whole=True)
