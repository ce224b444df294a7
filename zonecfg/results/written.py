"""A sheet that was written for the site: ``zonecfg-written/1``."""

from typing import Any, ClassVar, Literal

from msgspec import Struct

from zonecfg.results.outcome import Told


class Written(Struct, frozen=True, kw_only=True):
    """The answer of ``worksheet``: the file, and how many rows each of its tables has."""

    judges: ClassVar[bool] = False
    format: Literal["zonecfg-written/1"] = "zonecfg-written/1"
    path: str
    rows: dict[str, int]

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self

    @property
    def told(self) -> Told:
        """None: a sheet judges nothing."""
        return Told()
