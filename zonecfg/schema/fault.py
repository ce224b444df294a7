"""What a schema does not allow."""

from typing import NamedTuple

from zonecfg.results.finding import Cure


class SchemaFault(NamedTuple):
    """What the schema does not allow, on the narrowest node."""

    check: str
    at: str
    message: str
    on_key: bool = False
    path: tuple[str | int, ...] = ()
    missing: str | None = None
    cures: tuple[Cure, ...] = ()
