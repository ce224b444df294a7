"""Which files a path means, and how their names are shown."""

import os
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from msgspec import Struct

from zonecfg.document.limits import MAX_BYTES
from zonecfg.errors import CannotRead
from zonecfg.workflow.regular import regular, within

_SUFFIXES = {".yaml", ".yml"}
_FORMAT = re.compile(
    rb"^\xef?\xbb?\xbf?[\"']?format[\"']?[ \t]*:[ \t]*[\"']?zonecfg[-_ ]?(site|catalogue)?",
    re.MULTILINE | re.IGNORECASE,
)
_TOLD = re.compile(rb"^[^#\s\xef]", re.MULTILINE)
_STATE = re.compile(rb"^[\"']?state[\"']?[ \t]*:[ \t]*[\"']?([a-z-]+)", re.MULTILINE)
_STATES = {"as-designed", "as-commissioned"}
_SNIFFED = 64 * 1024


class PlanFile(Struct, frozen=True):
    """A file to look at: where it is and how it is called in results."""

    path: Path
    shown: str
    catalogue: bool = False
    state: bytes | None = None
    """The state it names, as far as that can be seen without reading all of it."""


def shown_path(path: Path, base: Path, current: Path | None = None) -> str:
    """Name a file for results: relative to the current folder, else to the path given; forward slashes."""
    for root in (current or Path.cwd(), base):
        full, of = Path(os.path.abspath(path)), Path(os.path.abspath(root))  # noqa: PTH100  (links stay as named)
        if full.is_relative_to(of):
            return full.relative_to(of).as_posix()
    return path.name


def base_of(paths: Sequence[Path]) -> Path:
    """Folder that names are relative to where the current one will not do: the path given, or what several share.

    Raises
    ------
    CannotRead
        There is nothing at a path.
    """
    for path in paths:
        try:
            path.stat()
        except OSError as error:
            raise CannotRead(f"{path.as_posix()[:200]}: {error.strerror}") from None
    folders = [path if path.is_dir() else path.parent for path in paths]
    return folders[0] if len(folders) == 1 else Path(os.path.commonpath([folder.resolve() for folder in folders]))


def find(given: Path, base: Path | None = None) -> list[PlanFile]:
    """List the site files and catalogues that a path means: itself, or all below a folder.

    Parameters
    ----------
    given
        A file or folder.
    base
        What names are relative to where the current folder will not do; the path given by itself.

    Raises
    ------
    CannotRead
        There is nothing there, or no site file in it.
    """
    base = base or base_of([given])
    if given.is_file():
        within(given, shown_path(given, base))
        kind, state = _kind_of(given)
        return [PlanFile(given, shown_path(given, base), kind == b"catalogue", state)]
    if not given.is_dir():
        raise CannotRead(f"{given.as_posix()}: not a file or folder that can hold a plan")
    found = []
    for path in yaml_files(given):
        within(path, shown_path(path, base))
        kind, state = _kind_of(path)
        if kind is not None:
            found.append(PlanFile(path, shown_path(path, base), kind == b"catalogue", state))
    if not any(not item.catalogue for item in found):
        raise CannotRead(
            f"{given.as_posix()}: no site file here or below (one that begins with format: zonecfg-site/1)"
        )
    return found


def yaml_files(folder: Path) -> Iterator[Path]:
    """Give every YAML file below a folder, hidden folders left out.

    Raises
    ------
    CannotRead
        A folder cannot be looked into.
    """

    def closed(error: OSError) -> None:
        raise CannotRead(f"{Path(error.filename).as_posix()}: {error.strerror}")

    for root, folders, files in os.walk(folder, onerror=closed):
        folders[:] = sorted(name for name in folders if not name.startswith((".", "node_modules", "__pycache__")))
        for name in sorted(files):
            path = Path(root, name)
            if path.suffix in _SUFFIXES and not path.is_dir():
                if path.is_file():
                    yield path
                elif path.stem in _STATES or path.parent.name == "saved":
                    raise CannotRead(f"{path.as_posix()}: a link that leads nowhere, or not a regular file")


def _kind_of(path: Path) -> tuple[bytes | None, bytes | None]:
    """Tell a site file, with its state, from a catalogue and from files of others, without reading all of it."""
    head = regular(path, _SNIFFED)
    if len(head) == _SNIFFED and not _TOLD.search(head):  # nothing but comments so far
        head = regular(path, MAX_BYTES)
    state = found[1] if (found := _STATE.search(head)) else None
    if match := _FORMAT.search(head):
        return (match[1] or b"site").lower(), state
    named_as_one = path.stem in _STATES or path.parent.name == "saved"
    return (b"site", state) if named_as_one else (None, None)
