"""A review: states and findings, what differs, ways back, decisions."""

from collections.abc import Iterable, Iterator

from zonecfg.report.blocks import (
    Bar,
    Bars,
    Block,
    Code,
    Detail,
    Gist,
    Heading,
    Item,
    Items,
    Paragraph,
    Rule,
    Title,
    items,
)
from zonecfg.report.said.changes import changes_blocks, folded, grown_words
from zonecfg.report.said.findings import finding_blocks, not_checked, state_words, summary_words
from zonecfg.report.said.rollback import ranking
from zonecfg.results.review import AgainstRevision, FileSince, Progress, Question, Review, WaysBack
from zonecfg.results.words import counted, listed


def blocks(review: Review) -> Iterator[Block]:
    """Tell a site on one page."""
    page = review.page
    yield Title(page.site or "Review")
    yield items([state_words(file, page.check.findings) for file in page.check.files], "States")
    if page.progress:
        yield _progress(page.progress)
    yield Detail(tuple(finding_blocks(page.check.findings, page.check.files, review.help, review.lines)))
    if page.compare is not None:
        yield Rule()
        yield from changes_blocks(page.compare, brief=True)
    if page.against is not None:
        yield Rule()
        yield from _against(page.against)
    if page.ways_back is not None:
        yield Rule()
        yield from _ways_back(page.ways_back)
    if page.decisions:
        yield Gist((Rule(), Heading("To be decided"), Items(tuple(map(_question, page.decisions)), numbered=True)))
    yield Gist((Rule(), Paragraph(summary_words(page.check.summary, page.check.files))))
    yield from not_checked(page.check.not_checked)


def _question(question: Question) -> Item:
    return Item(question.question, (Item(question.because),) if question.because else ())


def _progress(entries: Iterable[Progress]) -> Bars:
    return Bars(
        "Commissioning",
        tuple(Bar(e.what, e.done, e.of, listed(e.failed), listed(e.open)) for e in entries),
    )


def _against(since: AgainstRevision) -> Iterator[Block]:
    yield Heading(f"Since {since.revision} ({since.commit})")
    if since.files:
        yield files_since(since.files)
    else:
        yield Paragraph("Nothing differs.")
    if since.unchanged:
        yield Paragraph(f"{counted(since.unchanged, 'file')} as before.")


def files_since(files: Iterable[FileSince]) -> Items:
    """Tell what changed in each file, and which findings came and went."""
    return Items(tuple(map(_file, files)))


def _file(file: FileSince) -> Item:
    was = f", {file.was} before" if file.was else ""
    under = [
        *([Item(file.because)] if file.because else []),
        *map(Item, folded(file.changes)),
        *(
            Item((f"{title} {found.severity}: {found.message} (", Code(found.check), ")"))
            for title, findings in (("new", file.introduced), ("cleared", file.cleared))
            for found in findings
        ),
        *(Item((f"worse {grown_words(more)} (", Code(more.check), ")")) for more in file.worse),
    ]
    return Item(f"{file.path}: {file.status}{was}", tuple(under))


def _ways_back(back: WaysBack) -> Iterator[Block]:
    yield Heading("Ways back, the three best placed; a person decides")
    if back.because:
        yield Paragraph(back.because)
        return
    yield ranking(back.ranking[:3], back.names[:3])
    yield Paragraph((f"All {len(back.ranking)} ways with their steps: ", Code(back.command)))
