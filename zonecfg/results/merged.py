"""What came of putting two files together."""

from msgspec import Struct

from zonecfg.results.finding import Finding


class Merging(Struct, frozen=True):
    """The merged file, and what a person has to know of it."""

    file: str
    raw: bytes
    conflicts: tuple[str, ...] = ()
    """Each place where both sides changed and not alike, in words."""
    introduced: tuple[Finding, ...] = ()
    """Findings of the merged file that ours had not."""
    by_line: str | None = None
    """Why it was merged by line, if it was."""
    left_behind: tuple[str, ...] = ()
    """Comments that are not in the merged file, each behind the side that has it."""

    @property
    def clean(self) -> bool:
        """Whether nothing is left to decide."""
        return not self.conflicts
