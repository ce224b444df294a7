"""What can be explained: checks, fields and published rule sets."""

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


class RuleGuide(Struct, frozen=True, kw_only=True):
    """A published rule set: what it is, what it is written for, what it asks, and where that was read."""

    id: str
    kind: str
    title: str
    edition: str
    clause: str
    source: str
    secondary: bool
    buildings: str
    asks: tuple[str, ...]
    note: str


class Guide(Struct, frozen=True, kw_only=True):
    """The list of everything that can be explained."""

    checks: tuple[Help, ...]
    fields: tuple[Field, ...]
    rules: tuple[RuleGuide, ...]
