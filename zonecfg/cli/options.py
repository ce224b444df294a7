"""Arguments that several commands share, and what they mean."""

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from zonecfg.errors import CannotWrite, UnknownName

if TYPE_CHECKING:
    from zonecfg.report.said import Telling
    from zonecfg.report.style import Style
    from zonecfg.results.finding import Summary
    from zonecfg.workflow.spread import Crew


class FailOn(StrEnum):
    """From which severity on a finding makes the exit status 1."""

    error = "error"
    warning = "warning"
    note = "note"
    never = "never"


class Shown(StrEnum):
    """From which severity on findings are told one by one."""

    error = "error"
    warning = "warning"
    note = "note"


Format = Annotated[
    str,
    typer.Option(
        "--format",
        metavar="FORMAT",
        help="What goes to standard output: text, json, markdown, comment (short Markdown), sarif, junit, github.",
    ),
]
AnswerFormat = Annotated[
    str,
    typer.Option(
        "--format",
        metavar="FORMAT",
        help="What goes to standard output: text, json, markdown, comment (short Markdown).",
    ),
]
Output = Annotated[
    list[str] | None,
    typer.Option("--output", metavar="FORMAT=FILE", help="Write a format to a file as well; may be given again."),
]
Force = Annotated[bool, typer.Option("--force", help="Replace a file that stands there already.")]
FailOnOption = Annotated[
    FailOn,
    typer.Option(
        "--fail-on",
        metavar="SEVERITY",
        help="error, warning, note or never: from which severity on the exit status is 1.",
    ),
]
Today = Annotated[
    datetime | None,
    typer.Option(
        "--today", metavar="DATE", formats=["%Y-%m-%d"], help="Stands in for the clock, wherever a day is judged."
    ),
]


Jobs = Annotated[
    int | None,
    typer.Option("--jobs", metavar="N", help="Processes for a tree of many sites; as many as are worth it without."),
]
Executor = Annotated[
    str | None,
    typer.Option("--executor", metavar="cluster://HOST:PORT", help="A Dask cluster whose workers see the same files."),
]


@contextmanager
def crew(jobs: int | None, executor: str | None) -> Iterator["Crew"]:
    """Give who does the work; a terminal on standard error sees how far it is."""
    from zonecfg.workflow.spread import SITES_A_TASK, Crew

    told = ""

    def tell(done: int, total: int) -> None:
        nonlocal told
        if total > SITES_A_TASK:  # a handful is over before anybody has read it
            told = f"{done:,} of {total:,} done"
            print(f"\r{told}", end="", file=sys.stderr, flush=True)

    yield Crew(jobs, executor, tell if sys.stderr.isatty() else None)
    print(f"\r{' ' * len(told)}\r" if told else "", end="", file=sys.stderr, flush=True)


def judged_day(today: datetime | None) -> date:
    """Give the day that stands in for the clock, else the clock's."""
    return date.today() if today is None else today.date()  # noqa: DTZ011  (an acceptance's day is the reader's own)


def deliver(
    answer: "Telling", shown: str, outputs: list[str] | None, *, force: bool, reads: Sequence[Path | None] = ()
) -> None:
    """Write an answer to standard output and to the files asked for, none of which is one that was read."""
    from zonecfg.report import FORMATS, render

    targets = [_target(output) for output in outputs or ()]
    for name in (shown, *(name for name, _ in targets)):
        if name not in FORMATS:
            render(name, answer)
    if targets:
        from zonecfg.workflow.write import refuse_standing, spare, write_text

        for _, path in targets:
            spare(path, *reads)
        written = [(path, render(name, answer)) for name, path in targets]
        refuse_standing([path for path, _ in written], force=force)
        for path, text in written:
            write_text(path, text, force=force)
    if shown == "text":
        from zonecfg.report.text import render as render_text

        write_out(render_text(answer, style()))
    else:
        write_exactly(render(shown, answer))


def _target(output: str) -> tuple[str, Path]:
    name, sign, file = output.partition("=")
    if not sign or not file:
        raise UnknownName(f"--output {output}: write it as FORMAT=FILE")
    if file == "-":
        raise UnknownName(f"--output {output}: standard output is what --format writes to; write --format {name}")
    if Path(file).suffix in {".yaml", ".yml"}:
        raise CannotWrite(f"--output {output}: a plan's name; no answer is written as YAML")
    return name, Path(file)


def write_exactly(text: str) -> None:
    """Write what others read to standard output, in UTF-8 with one line end whatever the console; as in a file."""
    raw = getattr(sys.stdout, "buffer", None)
    if raw is None:  # a stream of text that stands in for standard output
        sys.stdout.write(text)
    else:
        sys.stdout.flush()
        raw.write(text.encode())
    sys.stdout.flush()


def write_out(text: str) -> None:
    """Write to standard output for a person, in what the terminal can show."""
    try:
        sys.stdout.write(text)
    except UnicodeEncodeError:
        encoding = sys.stdout.encoding or "ascii"
        plain = text.translate(_PLAIN)
        sys.stdout.write(plain.encode(encoding, "backslashreplace").decode(encoding))
    sys.stdout.flush()


_PLAIN = str.maketrans({"»": ">", "«": "<", "│": "|", "─": "-", "█": "#", "░": ".", "·": "-", "…": "~"})


def style() -> "Style":
    """Width and colours for standard output: NO_COLOR, FORCE_COLOR and TERM=dumb are obeyed."""
    from zonecfg.report.style import Style

    tty = sys.stdout.isatty()
    if os.environ.get("NO_COLOR"):
        colour = False
    elif os.environ.get("FORCE_COLOR"):
        colour = True
    else:
        colour = tty and os.environ.get("TERM") != "dumb"
    width = min(os.get_terminal_size().columns, 100) if tty else 80
    return Style(max(width, 40), colour)


def status(summary: "Summary", fail_on: FailOn) -> int:
    """Exit status of findings: 1 where one stands at or above the severity."""
    order = ["error", "warning", "note"]
    if fail_on is FailOn.never:
        return 0
    counted = order[: order.index(fail_on.value) + 1]
    return int(any(getattr(summary, severity) for severity in counted))
