"""Each state file of a folder compared with itself at a git revision."""

import tempfile
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from zonecfg.errors import CannotRead
from zonecfg.results.finding import Finding
from zonecfg.results.review import AgainstRevision, FileSince
from zonecfg.workflow.check import Checked, check_state
from zonecfg.workflow.compare import compare_states, findings_moved
from zonecfg.workflow.load import Loader, State
from zonecfg.workflow.paths import PlanFile, find, shown_path
from zonecfg.workflow.revisions import Span, file_renames, lay_out, repository, span


class FolderSides:
    """Both sides of a folder: what stands there, and the same at a revision."""

    def __init__(self, folder: Path, revision: str, today: date) -> None:
        self.top = repository(folder)
        self.where: Span = span(self.top, revision)
        self.today = today
        self._inside = folder.resolve().relative_to(self.top.resolve())
        self._folder = folder

    def states(self) -> tuple[list[Checked], list[tuple[Checked | None, Checked | None, str | None]]]:
        """Read both sides; give the present states, and pairs of before and after with the other name, if renamed."""
        with tempfile.TemporaryDirectory(prefix="zonecfg-") as name:
            old_root = Path(name, "before")
            old_root.mkdir()
            lay_out(self.top, self.where.before, old_root)
            new_root = None
            if self.where.after is not None:
                new_root = Path(name, "after")
                new_root.mkdir()
                lay_out(self.top, self.where.after, new_root)
            after = self._side(new_root)
            before = self._side(old_root, everywhere=True)
        names = file_renames(self.top, self.where)
        now_called = {old: new for new, old in names.items()}
        pairs: list[tuple[Checked | None, Checked | None, str | None]] = []
        seen = set()
        for path, now in after.items():
            old = path if path in before else names.get(path)
            pairs.append((before.get(old) if old else None, now, old if old != path else None))
            seen.add(old)
        prefix = "" if self._inside == Path() else f"{self._inside.as_posix()}/"
        pairs += [
            (then, None, now_called.get(path))
            for path, then in before.items()
            if path not in seen and path.startswith(prefix)
        ]
        return list(after.values()), pairs

    def _side(self, root: Path | None, *, everywhere: bool = False) -> dict[str, Checked]:
        """State files by their name from the top of the repository."""
        base = self._folder if root is None else root if everywhere else root / self._inside
        loader = Loader(base if root is None else root)
        found: dict[str, Checked] = {}
        try:
            items = find(base)
        except CannotRead:
            return found
        for item in items:
            if item.catalogue:
                continue
            inside = item.path.resolve().relative_to((self.top if root is None else root).resolve()).as_posix()
            name = item.shown if root is None else shown_path(self.top / inside, self._folder)
            found[inside] = check_state(loader.state(PlanFile(item.path, name)), self.today)
        return found


def against(sides: FolderSides) -> tuple[list[Checked], AgainstRevision]:
    """Compare every state file with itself at the revision."""
    present, pairs = sides.states()
    files = tuple(_since(before, after, other) for before, after, other in pairs)
    introduced = tuple(sorted((f for file in files for f in file.introduced), key=lambda f: f.order))
    return present, AgainstRevision(
        revision=sides.where.written,
        commit=sides.where.before[:12],
        files=tuple(file for file in files if file.status != "same"),
        unchanged=sum(file.status == "same" for file in files),
        introduced=introduced,
    )


def _since(before: Checked | None, after: Checked | None, other: str | None) -> FileSince:
    if before is None and after is not None:
        return FileSince(path=after.state.file, status="added", introduced=_open(after.findings))
    if after is None and before is not None:
        gone = None if other is None else f"it is {other} now, outside of what is reviewed"
        return FileSince(path=before.state.file, status="removed", because=gone, cleared=_open(before.findings))
    assert before is not None  # noqa: S101  (a pair has at least one side)
    assert after is not None  # noqa: S101
    unread = [s.state.file for s in (before, after) if s.state.site is None]
    moved = findings_moved(before.findings, after.findings, {})
    if unread:
        side = "at the revision" if before.state.site is None else "now"
        changed = _raw(before.state) != _raw(after.state)
        return FileSince(
            path=after.state.file,
            was=other,
            status="changed" if changed else "same",
            because=f"could not be read {side}, so that it cannot be compared",
            introduced=moved.introduced,
            cleared=moved.cleared,
            worse=moved.worse,
        )
    changes = compare_states(before, after).changes
    moves = changes.findings
    same = not (changes.changes or moves.introduced or moves.cleared or moves.worse)
    return FileSince(
        path=after.state.file,
        was=other,
        status="renamed" if other else "same" if same else "changed",
        changes=changes.changes,
        introduced=moves.introduced,
        cleared=moves.cleared,
        worse=moves.worse,
    )


def _raw(state: State) -> bytes:
    return state.document.places.text


def _open(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    return tuple(f for f in findings if f.accepted is None)
