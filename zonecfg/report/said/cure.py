"""Cures: the lines that change, file by file, each with the finding it cures; then what was left and why."""

from collections.abc import Iterator
from difflib import unified_diff

from zonecfg.report.blocks import Block, Code, Fold, Item, Items, Paragraph, Title, Verbatim
from zonecfg.results.cured import Cured, CuredFile, Made
from zonecfg.results.words import counted


def blocks(answer: Cured) -> Iterator[Block]:
    """Tell every cure."""
    yield Title("Cures", quiet=True)
    for file in answer.files:
        if file.made or file.left:
            yield Fold(title=file.path, gist=counted(len(file.made), "cure"), blocks=tuple(_file(file)), open=True)
    made = sum(len(file.made) for file in answer.files)
    done = "made" if answer.written else "to make with --write"
    yield Paragraph(f"{counted(made, 'cure')} {done}." if made else "Nothing a machine could cure.")


def _file(file: CuredFile) -> Iterator[Block]:
    if file.made:
        yield Items(tuple(map(_made, file.made)))
    if file.before is not None and file.after is not None:
        lines = unified_diff(file.before.splitlines(), file.after.splitlines(), file.path, file.path, n=1, lineterm="")
        yield Verbatim(tuple(lines))
    if file.left:
        yield Items(tuple(_made(left) for left in file.left), "Left, for a person to decide")


def _made(made: Made) -> Item:
    because = f"; {made.because}" if made.because else ""
    return Item((f"{made.about}: {made.message}: {made.text}{because} (", Code(made.check), ")"))
