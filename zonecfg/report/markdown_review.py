"""A review as Markdown, for a pull request."""

from collections.abc import Iterator

from zonecfg.report.inert import code_span, in_markdown
from zonecfg.report.markdown_changes import changes_lines
from zonecfg.report.markdown_findings import finding_blocks, finding_item, not_checked_lines
from zonecfg.report.text_changes import folded
from zonecfg.report.text_findings import state_words, summary_words
from zonecfg.report.text_rollback import rank_words
from zonecfg.results.outcome import Lines
from zonecfg.results.review import AgainstRevision, Review
from zonecfg.results.words import listed


def lines(review: Review) -> Iterator[str]:
    """Tell a site on one page, the decisions first."""
    page = review.page
    yield f"# {in_markdown(page.site)}" if page.site else "# Review"
    yield ""
    yield in_markdown(summary_words(page.check.summary, page.check.files))
    yield ""
    yield from (f"- {in_markdown(state_words(file, page.check.findings))}" for file in page.check.files)
    yield ""
    if page.progress:
        yield "| commissioning | done | failed | open |"
        yield "|---|---|---|---|"
        for entry in page.progress:
            failed, still = (in_markdown(listed(ids)) for ids in (entry.failed, entry.open))
            yield f"| {entry.what} | {entry.done} of {entry.of} | {failed} | {still} |"
        yield ""
    if page.decisions:
        yield "## To be decided"
        yield ""
        for number, question in enumerate(page.decisions, 1):
            because = f" {in_markdown(question.because)}" if question.because else ""
            yield f"{number}. {in_markdown(question.question)}{because}"
        yield ""
    if page.compare is not None:
        yield from changes_lines(page.compare, "##", review.lines, brief=True)
    if page.against is not None:
        yield from _against(page.against, review.lines)
    if page.ways_back is not None:
        yield "## Ways back"
        yield ""
        if page.ways_back.because:
            yield in_markdown(page.ways_back.because)
        for rank, name in zip(page.ways_back.ranking[:3], page.ways_back.names[:3], strict=True):
            yield f"{rank.place}. {in_markdown(rank_words(rank, name))}"
        yield ""
        yield f"A person decides. All ways with their steps: {code_span(page.ways_back.command)}"
        yield ""
    yield "## Findings"
    yield ""
    yield from finding_blocks(page.check.findings, review.lines)
    yield from not_checked_lines(page.check.not_checked, "##")


def _against(since: AgainstRevision, lines: Lines) -> Iterator[str]:
    yield f"## Since {in_markdown(since.revision)} ({since.commit})"
    yield ""
    if not since.files:
        yield "Nothing differs."
        yield ""
    yield from files_since(since, lines)


def files_since(since: AgainstRevision, lines: Lines) -> Iterator[str]:
    """Tell what changed in each file, and which findings came and went."""
    for file in since.files:
        was = f", {in_markdown(file.was)} before" if file.was else ""
        yield f"**{in_markdown(file.path)}**: {file.status}{was}"
        yield ""
        if file.because:
            yield in_markdown(file.because)
            yield ""
        yield from (f"- {in_markdown(line)}" for line in folded(list(file.changes)))
        yield ""
        for title, findings in (("New", file.introduced), ("Cleared", file.cleared)):
            if findings:
                yield f"{title}:"
                yield ""
                for found in findings:
                    yield from finding_item(found, lines)
                yield ""
