"""What can be explained: checks and fields."""

from msgspec import Struct

from zonecfg.results.outcome import Help


class Field(Struct, frozen=True, kw_only=True):
    """A field of the format."""

    name: str
    meaning: str
    kind: str
    required: bool = False
    bounds: str | None = None
    allowed: tuple[str, ...] = ()
    example: str | None = None


class Guide(Struct, frozen=True, kw_only=True):
    """The list of everything that can be explained."""

    checks: tuple[Help, ...]
    fields: tuple[Field, ...]
