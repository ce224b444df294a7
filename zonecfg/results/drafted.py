"""The answer of ``draft``: ``zonecfg-drafted/1``."""

from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.outcome import Told


class Lacking(Struct, frozen=True, kw_only=True):
    """A field that the schedule does not say of some windows, and a check that waits for it."""

    field: str
    check: str | None
    ids: tuple[str, ...]


class Revised(Struct, frozen=True, kw_only=True):
    """What a newer schedule changes of a plan: a window, what happened to it, and in words."""

    kind: Literal["added", "removed", "resized", "moved", "changed", "conflict"]
    id: str
    text: str


class DraftAnswer(Struct, frozen=True, kw_only=True):
    """What was drafted of a schedule, what was left out, and what is missing."""

    judges: ClassVar[bool] = False
    format: Literal["zonecfg-drafted/1"] = "zonecfg-drafted/1"
    path: str
    windows: int
    rooms: int
    types: int
    fixed: int
    made: tuple[str, ...] = ()
    missing: tuple[Lacking, ...] = ()
    unread: dict[str, tuple[str, ...]] = {}
    """Words that were not understood, by the field they were for."""
    revised: tuple[Revised, ...] = ()

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self

    @property
    def told(self) -> Told:
        """None: a draft is judged by check."""
        return Told()
