"""What ``record`` says: what was taken, what contradicts the plan, what is still blank."""

from collections.abc import Iterator

from zonecfg.report.style import Style
from zonecfg.results.recorded import Recorded
from zonecfg.results.signs import printable
from zonecfg.results.words import counted, listed


def lines(recorded: Recorded, _style: Style) -> Iterator[str]:
    """Tell it a line at a time, however long."""
    for indent, words in said(recorded):
        yield printable("  " * indent + words)


def said(recorded: Recorded) -> Iterator[tuple[int, str]]:
    """Give what is said: headings and lines by themselves (0), and what stands under them (1)."""
    done = "brought up to date" if recorded.updated else "written"
    yield 0, f"{recorded.path} {done}: {counted(recorded.values, 'value')} on the sheet, {recorded.new} of them new."
    rows = listed(
        f"{some} of {counted(every, name.removesuffix('s'))}" for name, (some, every) in recorded.rows.items()
    )
    yield 0, f"Filled in: {rows}."
    for title, values in (
        ("Recorded as found, though the plan or the calendar has it otherwise", recorded.against),
        ("Recorded before, and different now", recorded.before),
    ):
        if values:
            yield from ((0, ""), (0, title), *((1, line) for line in values))
    if recorded.blank:
        yield from ((0, ""), (0, "Still blank"))
        for blank in recorded.blank:
            yield 1, f"{blank.title} of {counted(len(blank.ids), blank.section.removesuffix('s'))}: {listed(blank.ids)}"
