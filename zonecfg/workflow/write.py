"""Writing a file whole: a new one beside it, renamed into place."""

import os
import tempfile
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from zonecfg.errors import CannotWrite


def refuse_standing(paths: Iterable[Path], *, force: bool = False) -> None:
    """Refuse to write any of several files where one of them stands there already.

    Raises
    ------
    CannotWrite
        One exists and ``force`` is not given, or two of them are one file.
    """
    targets = list(paths)
    standing = [path.as_posix() for path in targets if path.exists()]
    if standing and not force:
        raise CannotWrite(f"{', '.join(standing)} stands there already; --force replaces it")
    if len({path.resolve() for path in targets}) < len(targets):
        raise CannotWrite("two outputs would be one file")


def spare(target: Path, *needed: Path | None) -> None:
    """Refuse to write over what a command reads, whatever else is allowed.

    Raises
    ------
    CannotWrite
        The target is one of the files needed.
    """
    for path in needed:
        if path is not None and target.exists() and path.exists() and target.samefile(path):
            raise CannotWrite(f"{target.as_posix()} is read by this command; name another file")


def write_text(path: Path, text: str, *, force: bool = False) -> None:
    """Write text in UTF-8 as ``write_bytes`` does.

    Raises
    ------
    CannotWrite
        The file exists and ``force`` is not given, or its folder cannot be written to.
    """
    write_bytes(path, text.encode(), force=force)


def write_bytes(path: Path, raw: bytes, *, force: bool = False, before: Callable[[bytes], None] | None = None) -> None:
    """Write a file so that at any instant the old or the new one stands there whole.

    Parameters
    ----------
    path, raw
        The file, and what it shall hold.
    force
        Replace a file that stands there.
    before
        Called with what was written, read back, before it takes its name; it raises where something is wrong with it.

    Raises
    ------
    CannotWrite
        The file exists and ``force`` is not given, or its folder cannot be written to.
    """
    if path.exists() and not force:
        raise CannotWrite(f"{path.as_posix()} stands there already; --force replaces it")
    if path.exists() and not path.is_file():
        raise CannotWrite(f"{path.as_posix()} is no regular file, and nothing replaces it")
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(raw)
                file.flush()
                os.fsync(file.fileno())
            with _alone_in(path.parent):
                if before is not None:
                    before(Path(name).read_bytes())
                mode = path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask()
                Path(name).chmod(mode)
                if force:
                    Path(name).replace(path)
                else:
                    _take_name(Path(name), path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except FileExistsError:
        raise CannotWrite(f"{path.as_posix()} stands there already; --force replaces it") from None
    except OSError as error:
        raise CannotWrite(f"{path.as_posix()}: {error.strerror}") from None


@contextmanager
def _alone_in(folder: Path) -> Iterator[None]:
    """Hold a folder while a file of it is looked at once more and replaced; others of us wait for their turn.

    The system lets go of it when the process ends, however it ends. Where folders cannot be held, the look alone
    stands between two writers.
    """
    try:
        import fcntl  # noqa: PLC0415  (no Windows knows it)

        handle = os.open(folder, os.O_RDONLY)
    except (ImportError, OSError):
        yield
        return
    try:
        with suppress(OSError):
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _take_name(written: Path, path: Path) -> None:
    """Give a file its name, unless somebody else was quicker."""
    try:
        os.link(written, path)
        written.unlink()
    except FileExistsError:
        raise
    except OSError:  # memory sticks and some shares know no links
        path.open("xb").close()
        written.replace(path)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
