"""What came of a merge, for whoever has to decide the rest."""

from collections.abc import Iterator

from zonecfg.report.blocks import Block, Verbatim
from zonecfg.results.merged import Merging
from zonecfg.results.words import counted


def blocks(answer: Merging) -> Iterator[Block]:
    """Tell nothing where both sides went together and nothing new was found."""
    lines = []
    if answer.by_line is not None:
        lines.append(f"{answer.file}: merged by line, not by what it says: {answer.by_line}")
    if answer.conflicts:
        lines.append(f"{answer.file}: {counted(len(answer.conflicts), 'conflict')} to decide")
        lines += [f"  {conflict}" for conflict in answer.conflicts]
    if answer.introduced:
        state = "as merged" if answer.clean else "with ours chosen"
        lines.append(f"{answer.file}: {counted(len(answer.introduced), 'finding')} that ours had not, {state}")
        lines += [f"  {f.severity} {f.check}, line {f.line or 1}: {f.message}" for f in answer.introduced]
    if answer.left_behind:
        lines.append(f"{answer.file}: {counted(len(answer.left_behind), 'comment')} left out")
        lines += [f"  {comment}" for comment in answer.left_behind]
    if lines:
        yield Verbatim(tuple(lines))
