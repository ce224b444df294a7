"""The mechanical cures of findings, made in the text by place; one that brings something else is left alone."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from msgspec import Struct, structs

from zonecfg.checks.registry import entries
from zonecfg.compare.patch import patched
from zonecfg.document.keys import with_key_named
from zonecfg.document.places import Places
from zonecfg.document.reader import Document, read
from zonecfg.document.rewrite import rewritten
from zonecfg.model.grammar import grammar
from zonecfg.results.change import FindingsMoved, Grown
from zonecfg.results.cured import Cured, CuredFile, Made
from zonecfg.results.finding import Cure, Finding
from zonecfg.results.pointer import covers, split
from zonecfg.workflow.check import check_state
from zonecfg.workflow.compare import findings_moved
from zonecfg.workflow.load import Loader
from zonecfg.workflow.paths import PlanFile
from zonecfg.workflow.rewriting import refuse_faults, rewrite_all

Asked = Callable[[Finding, Cure], bool]
"""Whether a person says that a guess is meant; a slip by a thousand is only ever a guess."""

GUESSES = frozenset({"implausible-figure"})
"""Checks whose cures are guesses: made where somebody names the check, or says so when asked."""
_MOST = 200
"""Cures tried in one file."""


class Chosen(Struct, frozen=True):
    """Findings to cure: of one check, at one place (a pointer, or as printed), guesses a person agrees to."""

    only: str | None = None
    at: str | None = None
    agrees: Asked | None = None

    def takes(self, found: Finding) -> bool:
        """Whether a finding is among them."""
        if found.accepted is not None or (self.only is not None and found.check != self.only):
            return False
        if self.at is None:
            return True
        at = self.at if self.at.startswith("/") else f"/{self.at}"
        return covers(at, found.at) or at == f"/{found.about}"

    def agreed(self, found: Finding, cure: Cure) -> bool:
        """Whether a guess may be made."""
        if found.check not in GUESSES or self.only == found.check:
            return True
        return self.agrees is not None and self.agrees(found, cure)


def cure(paths: Sequence[Path], today: date, chosen: Chosen = Chosen(), *, write: bool = False) -> Cured:  # noqa: B008
    """Make the cures of findings that a machine can make.

    Each is judged by what stands once it is made: the finding has to be gone, and nothing may be new or worse. What
    safety hangs on has no cure of this kind.

    Parameters
    ----------
    paths
        Site files and catalogues, or folders that hold them.
    today
        The day that acceptances are judged by.
    chosen
        Which findings.
    write
        Whether files are changed, or it is only told what would.

    Returns
    -------
    Cured
        What is cured and what was left, with the text of each file before and after.

    Raises
    ------
    CannotRead, UnreadableSite
        A path cannot be opened, or a file cannot be read, so that it cannot be changed by place.
    CannotWrite
        A file cannot be written, or somebody else changed it meanwhile; then none was.
    """
    files: list[CuredFile] = []

    def make(document: Document, found: PlanFile) -> str:
        before = document.places.text.decode()
        if found.catalogue:
            return before
        refuse_faults(document)
        mended = _Mending(document, found.path, today, chosen)
        mended.run()
        if not mended.made:
            files.append(CuredFile(path=document.file, left=tuple(mended.left)))
            return before
        named = document
        for pointer, name in mended.names:
            named = read(with_key_named(named, pointer, name).encode(), document.file, grammar().as_written)
        after, _ = rewritten(named, mended.data, as_text=grammar().as_written, quoted=grammar().quoted)
        file = CuredFile(
            path=document.file, made=tuple(mended.made), left=tuple(mended.left), before=before, after=after
        )
        files.append(file)
        return after

    rewrite_all(paths, make, write=write)
    return Cured(files=tuple(files), written=write)


class _Mending:
    """The data of one file as one cure after the other is made."""

    def __init__(self, document: Document, path: Path, today: date, chosen: Chosen) -> None:
        self._document, self._path, self._today, self._chosen = document, path, today, chosen
        self.data: Any = document.data
        self.made: list[Made] = []
        self.names: list[tuple[str, str]] = []
        """Keys by pointer, and what each is called instead, in the order that they were."""
        self.left: list[Made] = []
        self._refused: set[tuple[str, str]] = set()

    def run(self) -> None:
        """Make one cure after the other, causes first, until none is left; places move as lists get shorter."""
        findings = self._judged(self.data)
        for _ in range(_MOST):
            found = next((f for f in findings if self._is_next(f)), None)
            if found is None:
                return
            findings = self._tried(found, findings)

    def _is_next(self, found: Finding) -> bool:
        mechanical = found.cures and found.cures[0].patch is not None and found.because_of is None
        return bool(mechanical) and self._chosen.takes(found) and found.identity not in self._refused

    def _tried(self, found: Finding, findings: Sequence[Finding]) -> Sequence[Finding]:
        self._refused.add(found.identity)  # each is tried once, whatever comes of it
        cure = found.cures[0]
        if cure.patch is None or not self._chosen.agreed(found, cure):
            self.left.append(_told(found, cure, "was not agreed to"))
            return findings
        data = patched(self.data, cure.patch)
        after = self._judged(data)
        moved = findings_moved(findings, after, {})
        if found.identity in {f.identity for f in after}:
            self.left.append(_told(found, cure, "it would not be enough"))
        elif brought := _brought(found, moved):
            self.left.append(_told(found, cure, f"it would bring {brought.check} about {brought.about}"))
        else:
            self.data = data
            self.made.append(_told(found, cure, ""))
            self.names += [(step["from"], split(step["path"])[-1]) for step in cure.patch if step["op"] == "move"]
            return after
        return findings

    def _judged(self, data: Any) -> Sequence[Finding]:
        document = self._document
        if data is not document.data:
            document = structs.replace(document, data=data, places=Places(data))
        return check_state(Loader().state_of(document, self._path), self._today).findings


def _brought(cured: Finding, moved: FindingsMoved) -> Finding | Grown | None:
    """Give what a cure would bring. What a misspelt key hid is no news of its cure: the file said it all along."""
    hidden = cured.check == "unknown-key"
    reading = {check_id for check_id, entry in entries().items() if entry.family == "reading"}
    new: list[Finding | Grown] = [f for f in moved.introduced if not hidden or f.check in reading]
    return next(iter(new if hidden else [*new, *moved.worse]), None)


def _told(found: Finding, cure: Cure, because: str) -> Made:
    patch: tuple[Mapping[str, Any], ...] = cure.patch or ()
    return Made(
        check=found.check,
        about=found.about,
        line=found.line,
        message=found.message,
        text=cure.text,
        patch=tuple(map(dict, patch)),
        because=because,
    )
