"""What ``record`` says: what was taken, what contradicts the plan, what is still blank."""

from collections.abc import Iterator

from zonecfg.report.inert import printable
from zonecfg.results.recorded import Recorded
from zonecfg.results.words import counted, listed


def render(recorded: Recorded) -> str:
    """Write it for a terminal."""
    return "\n".join(printable(line) for line in _lines(recorded)) + "\n"


def _lines(recorded: Recorded) -> Iterator[str]:
    done = "brought up to date" if recorded.updated else "written"
    yield f"{recorded.path} {done}: {counted(recorded.values, 'value')} on the sheet, {recorded.new} of them new."
    rows = listed(
        f"{some} of {counted(every, name.removesuffix('s'))}" for name, (some, every) in recorded.rows.items()
    )
    yield f"Filled in: {rows}."
    for title, lines in (
        ("Recorded as found, though the plan has it otherwise", recorded.against),
        ("Recorded before, and different now", recorded.before),
    ):
        if lines:
            yield from ("", title, *(f"  {line}" for line in lines))
    if recorded.blank:
        yield from ("", "Still blank")
        for blank in recorded.blank:
            yield f"  {blank.title} of {counted(len(blank.ids), blank.section.removesuffix('s'))}: {listed(blank.ids)}"
