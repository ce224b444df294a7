"""What is told of each answer: one module an answer, each giving blocks that any format can render.

To tell a new answer, add its module and its line in `said`; mypy names the line where it is missing.
"""

from collections.abc import Iterator
from typing import assert_never

from zonecfg.report.blocks import Block
from zonecfg.results.comparison import Comparison
from zonecfg.results.cured import Cured
from zonecfg.results.drafted import DraftAnswer
from zonecfg.results.figure import FiguresPage
from zonecfg.results.history import History
from zonecfg.results.identified import Identified
from zonecfg.results.matched import Matched
from zonecfg.results.outcome import Outcome
from zonecfg.results.portfolio import PortfolioReview
from zonecfg.results.recorded import Recorded
from zonecfg.results.rehearsal import RehearsalOutcome
from zonecfg.results.review import Review
from zonecfg.results.way import RollbackOutcome
from zonecfg.results.written import Written

Telling = (
    Outcome
    | Comparison
    | Review
    | PortfolioReview
    | RollbackOutcome
    | FiguresPage
    | RehearsalOutcome
    | Matched
    | Identified
    | Recorded
    | Written
    | Cured
    | History
    | DraftAnswer
)
"""Every answer there is."""


def said(answer: Telling) -> Iterator[Block]:
    """Give what is told of an answer; the module of the others is not imported."""
    match answer:
        case Outcome():
            from zonecfg.report.said.findings import blocks as findings

            return findings(answer)
        case Comparison():
            from zonecfg.report.said.changes import blocks as changes

            return changes(answer)
        case Review():
            from zonecfg.report.said.review import blocks as review

            return review(answer)
        case PortfolioReview():
            from zonecfg.report.said.portfolio import blocks as portfolio

            return portfolio(answer)
        case RollbackOutcome():
            from zonecfg.report.said.rollback import blocks as rollback

            return rollback(answer)
        case FiguresPage():
            from zonecfg.report.said.figures import blocks as figures

            return figures(answer)
        case RehearsalOutcome():
            from zonecfg.report.said.rehearsal import blocks as rehearsal

            return rehearsal(answer)
        case Matched():
            from zonecfg.report.said.match import blocks as match_

            return match_(answer)
        case Identified():
            from zonecfg.report.said.identify import blocks as identify

            return identify(answer)
        case Recorded():
            from zonecfg.report.said.record import blocks as record

            return record(answer)
        case Written():
            from zonecfg.report.said.worksheet import blocks as worksheet

            return worksheet(answer)
        case Cured():
            from zonecfg.report.said.cure import blocks as cure

            return cure(answer)
        case History():
            from zonecfg.report.said.history import blocks as history

            return history(answer)
        case DraftAnswer():
            from zonecfg.report.said.draft import blocks as draft

            return draft(answer)
        case _:
            assert_never(answer)
