"""What a repository and a clone of it need so that git compares and merges plans by what they say."""

import shlex
import sys
from pathlib import Path

from msgspec import Struct

from zonecfg import __version__
from zonecfg.errors import CannotRead
from zonecfg.workflow.paths import find, yaml_files
from zonecfg.workflow.revisions import GitRefuses, git, repository
from zonecfg.workflow.write import write_bytes

_SITE_FILES = ("as-designed.yaml", "as-designed.yml", "as-commissioned.yaml", "as-commissioned.yml")
_SAVED = ("**/saved/*.yaml", "**/saved/*.yml")
_ATTRIBUTES = "diff=zonecfg merge=zonecfg"


class Setting(Struct, frozen=True):
    """A setting of this clone: its name, its value, and what stands there now."""

    name: str
    value: str
    stands: str | None


class GitSetup(Struct, frozen=True):
    """What is needed, and what of it is there."""

    attributes: Path
    lines: tuple[str, ...]
    missing: tuple[str, ...]
    settings: tuple[Setting, ...]
    written: bool = False

    @property
    def unset(self) -> tuple[Setting, ...]:
        """The settings that do not stand as needed."""
        return tuple(setting for setting in self.settings if setting.stands != setting.value)


def git_setup(folder: Path, *, write: bool = False) -> GitSetup:
    """Tell what git needs in a repository, and set it up where that is asked for.

    Parameters
    ----------
    folder
        The repository, or a folder in it.
    write
        Add the missing lines to ``.gitattributes``, and set what is not set.

    Raises
    ------
    CannotRead, GitRefuses
        There is no such folder, or it is in no repository.
    CannotWrite
        ``.gitattributes`` cannot be written.
    """
    if not folder.is_dir():
        raise CannotRead(f"{folder.as_posix()}: no folder")
    top = repository(folder)
    attributes = top / ".gitattributes"
    old = attributes.read_bytes() if attributes.exists() else b""
    standing = {" ".join(line.split()) for line in old.decode("utf-8", "replace").splitlines()}
    lines = tuple(f"{pattern} {_ATTRIBUTES}" for pattern in _patterns(top))
    missing = tuple(line for line in lines if line not in standing)
    settings = tuple(Setting(name, value, _setting(top, name)) for name, value in _settings(_program()).items())
    answer = GitSetup(attributes, lines, missing, settings, written=write)
    if write and missing:
        newline = b"\r\n" if b"\r\n" in old else b"\n"
        head = old if not old or old.endswith(b"\n") else old + newline
        write_bytes(attributes, head + b"".join(line.encode() + newline for line in missing), force=True)
    for setting in answer.unset if write else ():
        git(top, "config", "--local", setting.name, setting.value)
    return answer


def _patterns(top: Path) -> list[str]:
    """Give the site files by name, and the other plans that lie there: by name where all of that name are plans."""
    try:
        found = {item.path for item in find(top)}
    except CannotRead:
        found = set()
    others = {path for path in found if path.name not in _SITE_FILES and path.parent.name != "saved"}
    shared = {path.name for path in yaml_files(top) if path not in found}
    names = {path.name if path.name not in shared else f"/{path.relative_to(top).as_posix()}" for path in others}
    return [*_SITE_FILES, *_SAVED, *map(_quoted, sorted(names))]


def _quoted(pattern: str) -> str:
    """Write a name as a pattern that means that name alone."""
    plain = "".join(f"\\{sign}" if sign in "*?[]\\!#" else sign for sign in pattern)
    if not any(sign.isspace() or sign == '"' for sign in plain):
        return plain
    return '"' + plain.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _program() -> str:
    """Name the program so that it is found by any shell, whatever environment is active: this interpreter, in full."""
    return f"{shlex.quote(Path(sys.executable).as_posix())} -m zonecfg"


def _settings(program: str) -> dict[str, str]:
    """Give the settings. The version is in a command since git forgets what it kept once the command is another."""
    return {
        "diff.zonecfg.textconv": f"ZONECFG_IS={shlex.quote(__version__)} {program} textconv",
        "diff.zonecfg.cachetextconv": "true",
        "merge.zonecfg.name": "zonecfg: plans by what they say",
        "merge.zonecfg.driver": (
            f"{program} merge %O %A %B -o %A --marker-size %L --path %P --label-ours %X --label-theirs %Y; s=$?; "
            "test $s -lt 2 || { git merge-file --marker-size=%L -L ours -L base -L theirs %A %O %B; s=$?; }; "
            "test $s -eq 0 || s=1; exit $s"
        ),
    }


def _setting(top: Path, name: str) -> str | None:
    try:
        return git(top, "config", "--local", "--get", name).decode("utf-8", "replace").removesuffix("\n")
    except GitRefuses:
        return None
