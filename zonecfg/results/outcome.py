"""What a command found out, with all that a format needs to tell it."""

from collections.abc import Mapping

from msgspec import Struct

from zonecfg.results.finding import Findings


class Help(Struct, frozen=True, kw_only=True):
    """The help text of a check: what it says, why, an example that is wrong, the cure and one that is right."""

    check: str
    severity: str
    family: str
    title: str
    why: str
    wrong: str
    cure: str
    right: str
    source: str


class Outcome(Struct, frozen=True, kw_only=True):
    """Findings, the help of the checks they name, and the source lines they quote, by file and line."""

    findings: Findings
    help: Mapping[str, Help] = {}
    lines: Mapping[tuple[str, int], str] = {}
