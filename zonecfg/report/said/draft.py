"""What was drafted of a schedule: counts, what changed in a plan, what is missing and which check waits for it."""

from collections.abc import Iterator

from zonecfg.report.blocks import Block, Paragraph, Table, Title, Warned, items
from zonecfg.results.drafted import DraftAnswer
from zonecfg.results.words import counted, listed


def blocks(answer: DraftAnswer) -> Iterator[Block]:
    """Tell a draft."""
    yield Title(f"Drafted: {answer.path}")
    parts = [counted(answer.windows, "window"), counted(answer.rooms, "room"), counted(answer.types, "type")]
    fixed = f"; {counted(answer.fixed, 'fixed window')} left out" if answer.fixed else ""
    yield Paragraph(f"{listed(parts)}{fixed}.")
    if answer.made:
        yield Paragraph(f"Ids were made where the schedule only counts: {listed(answer.made)}.")
    if answer.revised:
        yield items([revised.text for revised in answer.revised], "What the schedule changes")
    if answer.unread:
        told = [f"{field}: {listed(words)}" for field, words in answer.unread.items()]
        yield items(told, "Not understood, and left out")
    if answer.missing:
        rows = tuple((m.field, str(len(m.ids)), m.check or "", listed(m.ids, most=4)) for m in answer.missing)
        yield Table("Still to be found out", (("windows", ""), ("a check that waits", ""), ("which", "")), rows)
    yield Warned("Sizes of a schedule are of frames or of holes in walls. Measure the sash before relying on a figure.")
