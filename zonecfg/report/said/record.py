"""What ``record`` says: what was taken, what contradicts the plan, what is still blank."""

from collections.abc import Iterator

from zonecfg.report.blocks import Block, Heading, Paragraph, items
from zonecfg.results.recorded import Recorded
from zonecfg.results.words import counted, listed


def blocks(answer: Recorded) -> Iterator[Block]:
    """Tell what was taken, then lists of what contradicts, what is different, and what is blank."""
    done = "brought up to date" if answer.updated else "written"
    taken = f"{counted(answer.values, 'value')} on the sheet, {answer.new} of them new"
    yield Paragraph(f"{answer.path} {done}: {taken}.", whole=True)
    rows = (f"{some} of {counted(every, name.removesuffix('s'))}" for name, (some, every) in answer.rows.items())
    yield Paragraph(f"Filled in: {listed(rows)}.", whole=True)
    blank = [f"{b.title} of {counted(len(b.ids), b.section.removesuffix('s'))}: {listed(b.ids)}" for b in answer.blank]
    for title, told in (
        ("Recorded as found, though the plan or the calendar has it otherwise", answer.against),
        ("Recorded before, and different now", answer.before),
        ("Still blank", blank),
    ):
        if told:
            yield Heading(title)
            yield items(list(told))
