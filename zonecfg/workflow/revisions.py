"""What git knows: a revision's plans laid out in a folder of their own, and which files were renamed since.

Uses the git command; nothing is written to the repository.
"""

import io
import subprocess
import tarfile
from pathlib import Path

from msgspec import Struct

from zonecfg.document.limits import MAX_BYTES
from zonecfg.errors import ZonecfgError

_LONGEST_S = 120


class GitRefuses(ZonecfgError):
    """Git cannot answer: no repository, no such revision, no git."""


class Span(Struct, frozen=True):
    """Two sides to compare; ``after`` is None for the files as they lie in the folder."""

    written: str
    before: str
    after: str | None


def git(folder: Path, *arguments: str) -> bytes:
    """Run git in a folder and give what it prints.

    Raises
    ------
    GitRefuses
        Git is not there, takes too long, or refuses; its own first line is told.
    """
    done = _run(["git", "-C", str(folder), "-c", "core.quotePath=false", *arguments])
    if done.returncode:
        raise _refusal(done)
    return done.stdout


def _run(command: list[str]) -> "subprocess.CompletedProcess[bytes]":
    try:
        return subprocess.run(command, capture_output=True, timeout=_LONGEST_S, check=False)  # noqa: S603
    except FileNotFoundError:
        raise GitRefuses("git is not installed, and this needs it") from None
    except subprocess.TimeoutExpired:
        raise GitRefuses(f"git took longer than {_LONGEST_S} s") from None


def _refusal(done: "subprocess.CompletedProcess[bytes]") -> GitRefuses:
    said = done.stderr.decode("utf-8", "replace").strip().splitlines() or ["no reason given"]
    return GitRefuses(f"git: {said[0].removeprefix('fatal: ').removeprefix('error: ')}")


def repository(folder: Path) -> Path:
    """Outermost folder of the repository that a folder lies in.

    Raises
    ------
    GitRefuses
        It lies in none.
    """
    try:
        return Path(git(folder, "rev-parse", "--show-toplevel").decode().strip())
    except GitRefuses as error:
        if "not a git repository" in str(error):
            raise GitRefuses(f"{folder.as_posix()} is in no git repository, and this needs one") from None
        raise


def line_merge(ours: Path, base: Path, theirs: Path, marker_size: int) -> tuple[bytes, int]:
    """Merge three files by line, as git does; give the text and the number of conflicts in it.

    Raises
    ------
    GitRefuses
        Git is not there, or one of the files is no text.
    """
    names = [argument for label in ("ours", "base", "theirs") for argument in ("-L", label)]
    files = [str(path.resolve()) for path in (ours, base, theirs)]
    command = ["git", "merge-file", "-p", f"--marker-size={marker_size}", *names, *files]
    done = _run(command)
    if not 0 <= done.returncode < 128:
        raise _refusal(done)
    return done.stdout, done.returncode


def span(folder: Path, written: str) -> Span:
    """Read what to compare with: ``REV``, ``A..B``, ``A...B`` or ``merge-base:REV``.

    Raises
    ------
    GitRefuses
        There is no such revision; of a shallow clone it is said how to fetch more.
    """
    if written.startswith("merge-base:"):
        other = written.removeprefix("merge-base:")
        return Span(written, _merge_base(folder, _commit(folder, other), _commit(folder, "HEAD")), None)
    if "..." in written:
        left, right = written.split("...", 1)
        a, b = _commit(folder, left or "HEAD"), _commit(folder, right or "HEAD")
        return Span(written, _merge_base(folder, a, b), b)
    if ".." in written:
        left, right = written.split("..", 1)
        return Span(written, _commit(folder, left or "HEAD"), _commit(folder, right or "HEAD"))
    return Span(written, _commit(folder, written), None)


def _commit(folder: Path, revision: str) -> str:
    if revision.startswith("-"):
        raise GitRefuses(f"{revision} is no revision")
    try:
        return git(folder, "rev-parse", "--verify", "--quiet", f"{revision}^{{commit}}").decode().strip()
    except GitRefuses:
        raise GitRefuses(f"there is no revision {revision}{_if_shallow(folder)}") from None


def _merge_base(folder: Path, a: str, b: str) -> str:
    try:
        return git(folder, "merge-base", a, b).decode().split()[0]
    except GitRefuses:
        raise GitRefuses(f"the two sides have no commit in common{_if_shallow(folder)}") from None


def _if_shallow(folder: Path) -> str:
    if git(folder, "rev-parse", "--is-shallow-repository").strip() == b"true":
        return "; this clone is shallow: fetch its history (git fetch --unshallow, or fetch-depth: 0 in CI)"
    return ""


def lay_out(top: Path, commit: str, into: Path) -> None:
    """Write every YAML file of a commit into a folder, as the repository has them."""
    names = git(top, "ls-tree", "-r", "-z", "--long", commit).decode("utf-8", "surrogateescape").split("\0")
    wanted = []
    for entry in names:
        head, _, name = entry.partition("\t")
        fields = head.split()
        if name.lower().endswith((".yaml", ".yml")) and fields[1] == "blob" and int(fields[3]) <= MAX_BYTES:
            wanted.append(name)
    for start in range(0, len(wanted), 500):
        chunk = [f":(top,literal){name}" for name in wanted[start : start + 500]]
        packed = git(top, "archive", "--format=tar", commit, "--", *chunk)
        with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
            archive.extractall(into, filter="data")
    (into / ".git").mkdir(exist_ok=True)  # the outermost folder a catalogue may lie in


def file_renames(top: Path, where: Span) -> dict[str, str]:
    """Files that have another name now: new name to old, both from the top of the repository."""
    sides = [where.before] if where.after is None else [where.before, where.after]
    parts = git(top, "diff", "--name-status", "--find-renames", "--diff-filter=R", "-z", *sides).split(b"\0")
    names = [part.decode("utf-8", "surrogateescape") for part in parts]
    return {names[i + 2]: names[i + 1] for i in range(0, len(names) - 2, 3)}
