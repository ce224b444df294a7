"""The formats. To add one, add its module with a ``render`` and its line in `render`; mypy names what is missing."""

from typing import TYPE_CHECKING, Literal, assert_never, cast, get_args

from zonecfg.errors import UnknownName
from zonecfg.results.nearest import did_you_mean

if TYPE_CHECKING:
    from zonecfg.report.said import Telling

Format = Literal["text", "json", "markdown", "comment", "sarif", "junit", "github"]
FORMATS: tuple[Format, ...] = get_args(Format)

FINDINGS_ONLY = frozenset[Format]({"sarif", "junit", "github"})
"""Formats that tell nothing but findings: of anything else they would be empty, which looks like a pass."""


def render(name: str, answer: "Telling") -> str:
    """Write an answer in a format.

    Raises
    ------
    UnknownName
        There is no such format, or it tells findings only and there can be none.
    """
    refuse_unfit(name, judges=answer.judges)
    match cast("Format", name):
        case "text":
            from zonecfg.report.text import render as text

            return text(answer)
        case "json":
            from zonecfg.report.json_ import render as json

            return json(answer)
        case "markdown":
            from zonecfg.report.markdown import render as markdown

            return markdown(answer)
        case "comment":
            from zonecfg.report.comment import render as comment

            return comment(answer)
        case "sarif":
            from zonecfg.report.sarif import render as sarif

            return sarif(answer)
        case "junit":
            from zonecfg.report.junit import render as junit

            return junit(answer)
        case "github":
            from zonecfg.report.github import render as github

            return github(answer)
        case never:
            assert_never(never)


def refuse_unfit(name: str, *, judges: bool) -> None:
    """Refuse a format before a command does its work, where that is more than to tell.

    Raises
    ------
    UnknownName
        There is no such format, or it tells findings only and there can be none.
    """
    if name not in FORMATS:
        raise UnknownName(f"{name} is no format{did_you_mean(name, FORMATS)}; there are {', '.join(FORMATS)}")
    if name in FINDINGS_ONLY and not judges:
        others = ", ".join(other for other in FORMATS if other not in FINDINGS_ONLY)
        raise UnknownName(f"{name} tells findings, and there are none to tell here; there are {others}")
