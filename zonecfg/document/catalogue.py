"""Where a site's catalogue files lie, and which paths a plan may name."""

import os
from pathlib import Path, PurePosixPath


class OutsideRepository(ValueError):
    """A catalogue path leaves the repository, or the site folder where there is none."""


def site_folder(site_file: Path) -> Path:
    """Folder of a site: where its state files lie; saved copies lie one level below it."""
    folder = site_file.parent
    return folder.parent if folder.resolve().name == "saved" else folder


def root_of(site_file: Path) -> Path:
    """Outermost folder a catalogue may lie in: the repository around the site, else the site folder."""
    folder = site_folder(site_file).resolve()
    for candidate in (folder, *folder.parents):
        if (candidate / ".git").exists():
            return candidate
    return folder


def locate(site_file: Path, written: str) -> Path:
    """Find the catalogue that a site file names.

    Parameters
    ----------
    site_file
        The file that holds the name; it may be reached through a link.
    written
        Relative path with forward slashes.

    Returns
    -------
    Path
        The path as written, below the site file's folder. It need not exist.

    Raises
    ------
    OutsideRepository
        The path is absolute, or the file it ends at, links followed, lies outside.
    """
    pure = PurePosixPath(written)
    if pure.is_absolute() or "\\" in written or ":" in pure.parts[0] if pure.parts else False:
        raise OutsideRepository(f"{written} is not a relative path with forward slashes")
    path = site_file.parent / pure
    root = root_of(site_file)
    real = Path(os.path.realpath(path))  # unlike resolve() it takes a link to itself for what it is: no file
    if not real.is_relative_to(root):
        raise OutsideRepository(f"{written} leads outside {root.name}/")
    return path
