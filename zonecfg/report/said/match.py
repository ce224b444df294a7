"""What was found on the bus."""

from collections.abc import Iterator

from zonecfg.report.blocks import Block
from zonecfg.report.said.outline import outlined
from zonecfg.results.matched import Matched
from zonecfg.results.words import counted, listed


def blocks(answer: Matched) -> Iterator[Block]:
    """Tell it in lists under their headings."""
    return outlined(_said(answer))


def _said(answer: Matched) -> Iterator[tuple[int, str]]:
    """Give headings (0) and lines (1)."""
    yield 0, f"{answer.found} against {answer.plan}"
    for count in answer.controllers:
        where = count.controller or "all controllers together"
        off = (
            ""
            if not count.difference
            else f": {abs(count.difference)} {'strange' if count.difference > 0 else 'missing'}"
        )
        yield 1, f"{where}: {count.found} found, {count.planned} planned{off}"
    yield 1, f"{counted(len(answer.paired), 'actuator')} paired by serial"
    differing = [pair for pair in answer.paired if pair.differs]
    if differing:
        yield 0, "Paired, and something does not fit"
        for pair in differing:
            yield 1, f"{pair.actuator} ({pair.serial}): {listed(pair.differs)}"
    if answer.missing:
        yield 0, "On the plan, not found"
        for missing in answer.missing:
            yield 1, f"{missing.actuator} on {missing.opening or 'no opening'}: {missing.because}"
    if answer.strange:
        yield 0, "Found, not on the plan"
        for strange in answer.strange:
            known = [
                f"{name} {value}"
                for name, value in (
                    ("on", strange.controller),
                    ("type", strange.type),
                    ("set", strange.set),
                    ("number", strange.order),
                )
                if value is not None
            ]
            yield 1, f"{strange.serial} (row {strange.row}){': ' * bool(known)}{', '.join(known)}"
    if answer.remarks:
        yield 0, "Not understood"
        for remark in answer.remarks:
            yield 1, remark
    if answer.proposals:
        yield 0, "Proposals; a person confirms each before it is written down"
        for proposal in answer.proposals:
            yield 1, f"{proposal.actuator} is {proposal.serial}: {proposal.because}"
