"""What git knows: a revision's plans laid out in a folder of their own, and which files were renamed since.

Uses the git command; nothing is written to the repository.
"""

import contextlib
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path, PurePosixPath
from threading import Thread
from typing import IO

from msgspec import Struct

from zonecfg.document.limits import MAX_BYTES
from zonecfg.errors import ZonecfgError
from zonecfg.results.history import Commit

_LONGEST_S = 120
_MOST_BYTES = 400_000_000
"""All plans of one commit; ten files of the largest size."""
_ENVIRONMENT = ("PATH", "HOME", "XDG_CONFIG_HOME", "SYSTEMROOT", "TMPDIR", "TEMP", "TMP", "GIT_CONFIG_GLOBAL",
                "GIT_CONFIG_SYSTEM", "GIT_CONFIG_NOSYSTEM", "GIT_CEILING_DIRECTORIES")  # fmt: skip
"""What git may know of our surroundings: nothing that a hook sets for another repository (GIT_DIR and its like)."""


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
    done = _run(["git", "-C", str(folder), *_PLAIN, *arguments])
    if done.returncode:
        raise _refusal(done)
    return done.stdout


_PLAIN = ("-c", "core.quotePath=false", "-c", "core.fsmonitor=false", "-c", f"core.hooksPath={os.devnull}")
"""No option of a repository makes git run something of its own."""


def _environment() -> dict[str, str]:
    return {
        **{name: os.environ[name] for name in _ENVIRONMENT if name in os.environ},
        "GIT_OPTIONAL_LOCKS": "0",
        "LC_ALL": "C",
    }


def _run(command: list[str]) -> "subprocess.CompletedProcess[bytes]":
    try:
        return subprocess.run(  # noqa: S603
            command, capture_output=True, timeout=_LONGEST_S, check=False, env=_environment()
        )
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


def line_merge(
    ours: Path, base: Path, theirs: Path, marker_size: int, labels: tuple[str, str] = ("ours", "theirs")
) -> tuple[bytes, int]:
    """Merge three files by line, as git does; give the text and the number of conflicts in it.

    Raises
    ------
    GitRefuses
        Git is not there, or one of the files is no text.
    """
    names = [argument for label in (labels[0], "base", labels[1]) for argument in ("-L", label)]
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
    """Write every YAML file of a commit into a folder, byte for byte as it is committed.

    Blobs are read as they are: no attribute of the repository hides, fills in or filters one. Links are laid out as
    links, to be judged like links on the disk, and last, so that nothing is written through them.

    Raises
    ------
    GitRefuses
        The plans of the commit are larger than a commit of plans can be.
    """
    files, links, total = [], [], 0
    for mode, size, blob, name in _tree(top, commit):
        if mode == "120000":
            links.append((blob, name))
        elif name.lower().endswith((".yaml", ".yml")) and size <= MAX_BYTES:
            total += size
            files.append((blob, name))
    if total > _MOST_BYTES:
        raise GitRefuses(f"the plans of {commit[:12]} hold {total:,} bytes, and {_MOST_BYTES:,} are the most")
    for (_, name), raw in zip(files, _blobs(top, [blob for blob, _ in files]), strict=True):
        path = into / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(raw)
    for (_, name), raw in zip(links, _blobs(top, [blob for blob, _ in links]), strict=True):
        path = into / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if not os.path.lexists(path) and b"\0" not in raw:
            path.symlink_to(os.fsdecode(raw))
    (into / ".git").mkdir(exist_ok=True)  # the outermost folder a catalogue may lie in


def _blobs(top: Path, names: list[str]) -> Iterator[bytes]:
    """Give the content of blobs one by one, as they are stored."""
    if not names:
        return
    command = ["git", "-C", str(top), *_PLAIN, "cat-file", "--batch", "--buffer"]
    with subprocess.Popen(  # noqa: S603
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=_environment()
    ) as running:
        assert running.stdin is not None and running.stdout is not None  # noqa: PT018, S101  (asked for as pipes)
        asking = Thread(target=_ask, args=(running.stdin, names), daemon=True)
        asking.start()
        try:
            for _ in names:
                head = running.stdout.readline().split()
                if len(head) != 3 or head[1] != b"blob":
                    raise GitRefuses("git: a file of the commit cannot be read")
                yield running.stdout.read(int(head[2]))
                running.stdout.read(1)
        finally:
            running.kill()
        asking.join()


def _ask(pipe: IO[bytes], names: list[str]) -> None:
    with contextlib.suppress(OSError):
        pipe.write("".join(f"{name}\n" for name in names).encode())
        pipe.close()


def _tree(top: Path, commit: str) -> Iterator[tuple[str, int, str, str]]:
    """Give mode, size, blob and name of everything in a commit whose name stays within a folder."""
    for entry in git(top, "ls-tree", "-r", "-z", "--long", commit).decode("utf-8", "surrogateescape").split("\0"):
        head, _, name = entry.partition("\t")
        fields = head.split()
        parts = PurePosixPath(name).parts
        if len(fields) == 4 and fields[1] == "blob" and parts and not {"..", ".git", "/"} & set(parts):
            yield fields[0], int(fields[3]), fields[2], name


def file_renames(top: Path, where: Span) -> dict[str, str]:
    """Files that have another name now: new name to old, both from the top of the repository."""
    sides = [where.before] if where.after is None else [where.before, where.after]
    parts = git(
        top,
        "diff",
        "--no-ext-diff",
        "--no-textconv",
        "--name-status",
        "--find-renames",
        "--diff-filter=R",
        "-z",
        *sides,
    ).split(b"\0")
    names = [part.decode("utf-8", "surrogateescape") for part in parts]
    return {names[i + 2]: names[i + 1] for i in range(0, len(names) - 2, 3)}


def versions(top: Path, path: Path) -> list[tuple[Commit, bytes]]:
    """Give every commit that changed a file, the latest first, with the file as it was then, whatever it was called.

    Parameters
    ----------
    top
        The repository.
    path
        The file as it is called now.
    """
    inside = path.relative_to(top.resolve()).as_posix()
    told = git(
        top, "log", "--follow", "--no-ext-diff", "--no-textconv", "--find-renames", "--name-only", "-z",
        f"--format={_RECORD}%H%x1f%aI%x1f%an%x1f%s%x1f", "--", inside,
    ).decode("utf-8", "replace")  # fmt: skip
    commits = []
    for record in told.split(_RECORD)[1:]:
        number, day, author, subject, rest = record.split("\x1f", 4)
        name = rest.strip("\0\n").split("\0")[-1] or inside
        commits.append(Commit(id=number, date=day, author=author, subject=subject, file=name))
    blobs = []
    for commit in commits:
        listed = git(top, "ls-tree", "-z", commit.id, "--", commit.file).split(b"\0")[0].split()
        blobs.append(listed[2].decode() if len(listed) > 2 and listed[1] == b"blob" else "")
    there = [pair for pair in zip(commits, blobs, strict=True) if pair[1]]
    return [(commit, raw) for (commit, _), raw in zip(there, _blobs(top, [b for _, b in there]), strict=True)]


_RECORD = "\x1e"
