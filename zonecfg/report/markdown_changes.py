"""The changes between two states as Markdown."""

from collections.abc import Iterator

from zonecfg.report.inert import in_markdown
from zonecfg.report.markdown_findings import finding_item
from zonecfg.report.text_changes import counts_in_words, figure_words, folded
from zonecfg.results.change import CONSEQUENCES, Changes
from zonecfg.results.comparison import Comparison
from zonecfg.results.outcome import Lines


def lines(comparison: Comparison) -> Iterator[str]:
    """Tell a comparison."""
    yield from changes_lines(comparison.changes, "##", comparison.lines)


def changes_lines(changes: Changes, heading: str, lines: Lines, *, brief: bool = False) -> Iterator[str]:
    """Tell changes by consequence, then the findings and figures they move."""
    yield f"{heading} From {in_markdown(changes.before.path)} to {in_markdown(changes.after.path)}"
    yield ""
    if not changes.changes:
        yield "Nothing differs."
        return
    yield f"{counts_in_words(changes.changes)}."
    yield ""
    for consequence in CONSEQUENCES:
        group = [change for change in changes.changes if change.consequence == consequence]
        if group and consequence == "record":
            yield from _folded_part("Record", [in_markdown(line) for line in folded(group)])
        elif group:
            yield f"**{consequence.capitalize()}**"
            yield ""
            yield from (f"- {in_markdown(line)}" for line in folded(group))
            yield ""
    if changes.figures:
        yield from _folded_part("Figures that move", [in_markdown(figure_words(move)) for move in changes.figures])
    if brief:
        return
    for title, found in (("introduced", changes.findings.introduced), ("cleared", changes.findings.cleared)):
        if found:
            yield f"{heading}# Findings {title}"
            yield ""
            for item in found:
                yield from finding_item(item, lines)
            yield ""


def _folded_part(title: str, items: list[str]) -> Iterator[str]:
    yield f"<details><summary>{title}: {len(items)}</summary>"
    yield ""
    yield from (f"- {item}" for item in items)
    yield ""
    yield "</details>"
    yield ""
