"""Reading files that other people laid out: regular ones, of a bounded size, through no link that leads away."""

import os
import stat
from pathlib import Path

from zonecfg.document.catalogue import root_of
from zonecfg.errors import CannotRead


def regular(path: Path, most: int, name: str | None = None) -> bytes:
    """Read at most so many bytes of a regular file; an error calls it by ``name`` where one is given.

    Raises
    ------
    CannotRead
        It cannot be opened, or is a pipe, a device or a folder: none of these ends, or holds a plan.
    """
    shown = name or path.as_posix()
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise CannotRead(f"{shown}: not a regular file")
            return file.read(most)
    except OSError as error:
        raise CannotRead(f"{shown}: {error.strerror}") from None
    except ValueError:
        raise CannotRead(f"{shown[:200]!r}: no name of a file") from None


def within(path: Path, shown: str) -> None:
    """Refuse a file that a link takes out of the repository it stands in, or out of its folder where there is none.

    Raises
    ------
    CannotRead
        It leads outside; what lies there is neither read nor quoted.
    """
    root = root_of(path)
    if not Path(os.path.realpath(path)).is_relative_to(root):
        raise CannotRead(f"{shown}: a link that leads outside {root.name}/; name the file it leads to")
