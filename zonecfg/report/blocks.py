"""What an answer is told in: blocks that say what stands there, not how it looks. A format renders and escapes them."""

from collections.abc import Callable

from msgspec import Struct


class Code(Struct, frozen=True):
    """Words shown as they are written: the id of a check, a command."""

    text: str


Words = str | tuple[str | Code, ...]
"""A sentence as it is, or in parts of which some are `Code`."""


class Title(Struct, frozen=True):
    """What the whole answer is about, once and first; a quiet one is for pages, among other pages."""

    words: Words
    quiet: bool = False


class Heading(Struct, frozen=True):
    """What the next blocks are about."""

    words: Words


class Paragraph(Struct, frozen=True):
    """A sentence or a few; a whole one is never broken, for it names a file somebody may copy."""

    words: Words
    whole: bool = False


class Warned(Struct, frozen=True):
    """A sentence nobody may miss."""

    words: Words


class Item(Struct, frozen=True):
    """An entry of a list, with what belongs under it."""

    words: Words
    under: tuple["Item", ...] = ()
    severity: str | None = None


class Items(Struct, frozen=True):
    """A list under a title of its own, or under the heading before it. Steps are numbered, or ticked on a page."""

    items: tuple[Item, ...]
    title: str = ""
    steps: bool = False
    numbered: bool = False


class Table(Struct, frozen=True):
    """A row a thing, its id first; a column is a heading and a unit. The last column may be words."""

    title: str
    headings: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, ...], ...]


class Moment(Struct, frozen=True):
    """When, and what happened."""

    at: str
    words: Words


class Moments(Struct, frozen=True):
    """What happened one after the other; a terminal shows the first ``most`` of them."""

    rows: tuple[Moment, ...]
    most: int


class Bar(Struct, frozen=True):
    """How much of a kind of work is done; what failed in it, and what is open."""

    what: str
    done: int
    of: int
    failed: str = ""
    open: str = ""


class Bars(Struct, frozen=True):
    """How far work has come, a row a kind."""

    title: str
    rows: tuple[Bar, ...]


class Picture(Struct, frozen=True):
    """Lines drawn with letters, for a width in columns."""

    draw: Callable[[int], list[str]]


class Verbatim(Struct, frozen=True):
    """Lines to be copied as they are, however long."""

    lines: tuple[str, ...]


class Fault(Struct, frozen=True, kw_only=True):
    """A finding: what is wrong with what, the line quoted with its guilty columns (from 1, the end exclusive), why."""

    severity: str
    message: str
    check: str
    about: str
    file: str | None = None
    line: int | None = None
    quoted: str = ""
    column: int | None = None
    end_column: int | None = None
    why: str = ""
    cure: str = ""
    behind: str = ""


class Fold(Struct, frozen=True, kw_only=True):
    """A part with a title, which a page folds away behind the title and the gist.

    ``note`` stands under the title at a terminal; ``more`` is told on a page alone, where it costs nobody a glance.
    """

    title: str
    gist: str = ""
    note: str = ""
    blocks: tuple["Block", ...]
    more: tuple["Block", ...] = ()
    open: bool = False


class Gist(Struct, frozen=True):
    """What is to be seen first: a terminal has it near its end, a page lifts it to the top, the last one first."""

    blocks: tuple["Block", ...]


class Detail(Struct, frozen=True):
    """What is long: a page has it at its end."""

    blocks: tuple["Block", ...]


class Rule(Struct, frozen=True):
    """A line across a terminal; a page has headings."""


Block = (
    Title
    | Heading
    | Paragraph
    | Warned
    | Items
    | Table
    | Moments
    | Bars
    | Picture
    | Verbatim
    | Fault
    | Fold
    | Gist
    | Detail
    | Rule
)


def items(words: "list[str] | tuple[str, ...]", title: str = "") -> Items:
    """Make a list of plain sentences."""
    return Items(tuple(map(Item, words)), title)
