"""What is wrong, and where: a check's *problem*, and the *finding* it becomes once it has a place."""

from collections.abc import Iterable, Mapping
from typing import Any, Literal

from msgspec import Struct

Severity = Literal["error", "warning", "note"]
SEVERITIES: tuple[Severity, ...] = ("error", "warning", "note")


class Size(Struct, frozen=True, gc=False):
    """A figure that stands on the wrong side of its limit, both in one unit."""

    figure: float
    limit: float
    unit: str


class Cure(Struct, frozen=True):
    """What would mend a fault: a sentence, and the edit where it is mechanical (RFC 6902 over the file's data)."""

    text: str
    patch: tuple[dict[str, Any], ...] | None = None


class Cause(Struct, frozen=True):
    """The identity of the finding that another one hangs on."""

    check: str
    about: str


class Problem(Struct, frozen=True, gc=False):
    """A fault a check saw: the thing it is about, where that stands in the data, and the sentence for a person.

    ``subjects`` are all things it speaks of, as ``section/id``; none stands for what it is about.
    """

    about: str
    at: str
    message: str
    related: tuple[str, ...] = ()
    severity: Severity | None = None
    subjects: tuple[str, ...] = ()
    size: Size | None = None
    cures: tuple[Cure, ...] = ()


class Unknown(Struct, frozen=True, gc=False):
    """What a check could not judge: what is missing, and for which ids."""

    because: str
    ids: tuple[str, ...] = ()


class Related(Struct, frozen=True, gc=False):
    """Another place that belongs to a finding."""

    file: str | None
    at: str
    line: int | None
    column: int | None


class Finding(Struct, frozen=True, kw_only=True):
    """A fault with its place. Lines and columns count from 1; end_column is the first one past the guilty part.

    Attributes
    ----------
    accepted, accepted_by, accepted_until
        Why, by whom and until when it is accepted; the first is null where it is open.
    subjects
        What it speaks of, as ``section/id``, sorted.
    figure, limit, unit
        The figure that misses its limit; null where it is no matter of a figure.
    because_of
        The finding without which this one would not be.
    cures
        What would mend it.
    """

    check: str
    severity: Severity
    about: str
    file: str | None
    at: str
    line: int | None
    column: int | None
    end_column: int | None
    message: str
    related: tuple[Related, ...] = ()
    accepted: str | None = None
    accepted_by: str | None = None
    accepted_until: str | None = None
    subjects: tuple[str, ...] = ()
    figure: float | None = None
    limit: float | None = None
    unit: str | None = None
    because_of: Cause | None = None
    cures: tuple[Cure, ...] = ()

    @property
    def order(self) -> tuple[str, int, int, str, str]:
        """Sort key: file, line, column, check, at."""
        return (self.file or "", self.line or 0, self.column or 0, self.check, self.at)

    @property
    def identity(self) -> tuple[str, str]:
        """What stays the same when lines move: check and about."""
        return (self.check, self.about)


class NotChecked(Struct, frozen=True, kw_only=True):
    """A check that could not run, for all of a file or for some ids."""

    check: str
    file: str | None
    because: str
    ids: tuple[str, ...] = ()


class Verdicts(Struct, frozen=True, kw_only=True):
    """Of how many things a check looked at what came out; one of which part is not known counts as unknown."""

    passed: int = 0
    found: int = 0
    unknown: int = 0
    not_applicable: int = 0


class FileSummary(Struct, frozen=True, kw_only=True):
    """A state file that was looked at. The counts are null where it could not be read."""

    path: str
    state: str | None
    actuators: int | None = None
    groups: int | None = None
    sensors: int | None = None


class Summary(Struct, frozen=True, kw_only=True):
    """How many findings of each severity are open, and how many are accepted."""

    error: int = 0
    warning: int = 0
    note: int = 0
    accepted: int = 0


class Findings(Struct, frozen=True, kw_only=True):
    """The answer of ``check``: ``zonecfg-findings/1``."""

    format: Literal["zonecfg-findings/1"] = "zonecfg-findings/1"
    files: tuple[FileSummary, ...] = ()
    findings: tuple[Finding, ...] = ()
    not_checked: tuple[NotChecked, ...] = ()
    summary: Summary = Summary()
    judged: Mapping[str, Verdicts] = {}


def summarise(findings: Iterable[Finding]) -> Summary:
    """Count findings: accepted ones apart, the others by severity."""
    counts = dict.fromkeys((*SEVERITIES, "accepted"), 0)
    for finding in findings:
        counts["accepted" if finding.accepted is not None else finding.severity] += 1
    return Summary(**counts)
