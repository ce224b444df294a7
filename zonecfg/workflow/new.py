"""A small commented site that passes, to start from."""

from importlib.resources import files
from pathlib import Path

from zonecfg.errors import CannotWrite
from zonecfg.workflow.schemas import pointing
from zonecfg.workflow.write import refuse_standing, write_text

_FILES = {"as-designed.yaml": "site", "equipment.yaml": "catalogue"}


def new(folder: Path, *, force: bool = False) -> list[Path]:
    """Write a first site; its files point to their schemas where a ``schemas`` folder lies beside or above them.

    Parameters
    ----------
    folder
        Is made where it does not exist.
    force
        Replace files that stand there.

    Returns
    -------
    list of Path
        The files written.

    Raises
    ------
    CannotWrite
        One of the files stands there already, or the folder cannot be made.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWrite(f"{folder.as_posix()}: {error.strerror}") from None
    targets = {folder / name: kind for name, kind in _FILES.items()}
    refuse_standing(targets, force=force)
    for path, kind in targets.items():
        text = files("zonecfg.workflow").joinpath("first_site", path.name).read_text("utf-8")
        write_text(path, pointing(text, path, kind), force=force)
    return list(targets)
