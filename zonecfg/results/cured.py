"""The answer of ``cure``: ``zonecfg-cured/1``."""

from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.outcome import Told


class Made(Struct, frozen=True, kw_only=True):
    """A cure that was made, or would be; ``because`` says why one was left."""

    check: str
    about: str
    line: int | None
    message: str
    text: str
    patch: tuple[dict[str, Any], ...] = ()
    because: str = ""


class CuredFile(Struct, frozen=True, kw_only=True):
    """A site file: what is cured in it, what was left, and its text before and after; null where it stays."""

    path: str
    made: tuple[Made, ...] = ()
    left: tuple[Made, ...] = ()
    before: str | None = None
    after: str | None = None


class Cured(Struct, frozen=True, kw_only=True):
    """What was cured in each file, and whether it was written."""

    judges: ClassVar[bool] = False
    format: Literal["zonecfg-cured/1"] = "zonecfg-cured/1"
    files: tuple[CuredFile, ...] = ()
    written: bool = False

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self

    @property
    def told(self) -> Told:
        """None: what is cured is found no more."""
        return Told()
