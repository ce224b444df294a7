"""The schemas as files, and the first line by which a plan points an editor to its own."""

import os
import re
from pathlib import Path

from zonecfg import schema
from zonecfg.errors import CannotWrite, UnknownName
from zonecfg.results.nearest import did_you_mean
from zonecfg.workflow.write import refuse_standing, write_text

FOLDER = "schemas"
"""Where ``zonecfg schema -o schemas`` puts them; looked for beside a plan and in the folders above."""

MODELINE = "# yaml-language-server: $schema="
"""How the first line of a plan begins that points an editor to its schema."""

_SUFFIX = ".schema.json"
_LINE = re.compile(rf"\ufeff?{re.escape(MODELINE)}(?P<path>[^\r\n]*)")


def text_of(kind: str) -> str:
    """Give a schema as text.

    Raises
    ------
    UnknownName
        There is no such schema.
    """
    kinds = [path.name.removesuffix(_SUFFIX) for path in sorted(schema.folder().glob(f"*{_SUFFIX}"))]
    if kind not in kinds:
        raise UnknownName(f"{kind} is no schema{did_you_mean(kind, kinds)}; there are {', '.join(kinds)}")
    return (schema.folder() / f"{kind}{_SUFFIX}").read_text("utf-8")


def write_schemas(folder: Path, *, force: bool = False) -> list[Path]:
    """Write every schema into a folder, which is made where it does not exist.

    Returns
    -------
    list of Path
        The files; those that stand there with the same content are left as they are.

    Raises
    ------
    CannotWrite
        Another file stands there already, or the folder cannot be made.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWrite(f"{folder.as_posix()}: {error.strerror}") from None
    targets = {folder / source.name: source for source in sorted(schema.folder().glob("*.schema.json"))}
    fresh = [
        path for path, source in targets.items() if not (path.is_file() and path.read_bytes() == source.read_bytes())
    ]
    refuse_standing(fresh, force=force)
    for path in fresh:
        write_text(path, targets[path].read_text("utf-8"), force=force)
    return list(targets)


def pointing(text: str, path: Path, kind: str, source: Path | None = None) -> str:
    """Make a plan's first line point to its schema.

    Parameters
    ----------
    text
        The plan.
    path
        Where it will stand.
    kind
        ``site`` or ``catalogue``.
    source
        Where the text comes from, if it has such a line already.

    Returns
    -------
    str
        With a line that leads to the schema by a path relative to the plan. Where neither the old line leads to a
        file nor one of the folders above holds a ``schemas`` folder, the text stays as it is.
    """
    found = _LINE.match(text)
    if found and "://" in found["path"]:
        return text
    pointed = source.parent / found["path"] if found and source else None
    target = pointed if pointed is not None and pointed.is_file() else _above(path, kind)
    if target is None:
        return text
    relative = Path(os.path.relpath(target.resolve(), path.parent.resolve())).as_posix()
    if found:
        return text[: found.start("path")] + relative + text[found.end("path") :]
    return f"{MODELINE}{relative}\n{text}"


def _above(path: Path, kind: str) -> Path | None:
    """Look for the schema beside a plan and in the folders above, no further up than its repository."""
    for folder in path.resolve().parents:
        candidate = folder / FOLDER / f"{kind}.schema.json"
        if candidate.is_file():
            return candidate
        if (folder / ".git").exists():
            return None
    return None
