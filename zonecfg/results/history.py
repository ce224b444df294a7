"""The answer of ``history``: ``zonecfg-history/1``."""

from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.change import Change
from zonecfg.results.outcome import Told


class Commit(Struct, frozen=True, kw_only=True):
    """A commit that changed a file: which, when, by whom, what it was called, and under which name the file stood."""

    id: str
    date: str
    author: str
    subject: str
    file: str


class Event(Struct, frozen=True, kw_only=True):
    """What one commit changed, fact by fact; ``because`` says why that is not known."""

    commit: Commit
    changes: tuple[Change, ...] = ()
    because: str | None = None


class History(Struct, frozen=True, kw_only=True):
    """What became of a file, or of one thing or field in it, the latest first; and the names the thing has had."""

    judges: ClassVar[bool] = False
    format: Literal["zonecfg-history/1"] = "zonecfg-history/1"
    file: str
    about: str | None = None
    names: tuple[str, ...] = ()
    commits: int = 0
    """How many commits were looked at."""
    events: tuple[Event, ...] = ()

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self

    @property
    def told(self) -> Told:
        """None: what was judges nothing."""
        return Told()
