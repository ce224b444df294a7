"""A plan drafted from window schedules; a newer schedule brought into a plan that people have worked on since."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from zonecfg.document.reader import Document, read
from zonecfg.document.rewrite import rewritten
from zonecfg.drafting.plan import WAITS, Draft, as_text, drafted
from zonecfg.drafting.schedule import Drafted, DraftOptions, ScheduledWindow, understand
from zonecfg.drafting.table import sheets
from zonecfg.errors import UnreadableSheet
from zonecfg.model.grammar import grammar
from zonecfg.results.drafted import DraftAnswer, Lacking, Revised
from zonecfg.results.words import listed
from zonecfg.sheets.raw import MAX_BYTES
from zonecfg.workflow.load import content
from zonecfg.workflow.regular import regular
from zonecfg.workflow.rewriting import refuse_faults
from zonecfg.workflow.write import refuse_standing, write_bytes, write_text

PLAN = "as-designed.yaml"


def draft(
    schedules: Sequence[Path],
    folder: Path,
    options: DraftOptions = DraftOptions(),  # noqa: B008
    *,
    name: str | None = None,
    update: Path | None = None,
    force: bool = False,
) -> DraftAnswer:
    """Draft a plan.

    Parameters
    ----------
    schedules
        ScheduledWindow schedules: .csv, .xlsx or .ods.
    folder
        Where ``as-designed.yaml`` goes; with ``update`` it is not used.
    options
        What a person says where a schedule does not.
    name
        What the site is called; the folder's name by itself.
    update
        A plan that was drafted from an earlier schedule: what the schedule says of a window is brought into it, all
        else in it stays.
    force
        Replace a plan that stands there.

    Returns
    -------
    DraftAnswer
        Counts, what is missing and which check waits for it, and what changes in a plan that was updated.

    Raises
    ------
    CannotRead, UnreadableSheet, Undecided
        A schedule cannot be opened or understood; then nothing was written.
    CannotWrite
        A plan stands there already, or cannot be written.
    """
    parts = [_understood(path, options) for path in schedules]
    windows = [window for part in parts for window in part.windows]
    _refuse_doubles(windows)
    made = drafted(windows, name or folder.resolve().name or "Site")
    if update is None:
        target = folder / PLAN
        refuse_standing([target], force=force)
        text = as_text(made, [path.name for path in schedules], windows)
        folder.mkdir(parents=True, exist_ok=True)
        write_text(target, text, force=force)
        revised: tuple[Revised, ...] = ()
    else:
        target = update
        raw = content(update)
        document = read(raw, update.as_posix(), grammar().as_written)
        refuse_faults(document)
        wanted, told = _revised(document, made)
        text, _ = rewritten(document, wanted, as_text=grammar().as_written, quoted=grammar().quoted)
        if text.encode() != raw:
            write_bytes(update, text.encode(), force=True)
        revised = tuple(told)
    return DraftAnswer(
        path=target.as_posix(),
        windows=len(made.data["openings"]),
        rooms=len(made.data["rooms"]),
        types=len(made.data.get("types", {}).get("openings", {})),
        fixed=sum(part.fixed for part in parts),
        made=made.made,
        missing=tuple(Lacking(field=f, check=WAITS.get(f), ids=ids) for f, ids in made.missing.items()),
        unread={field: tuple(w for part in parts for w in part.unread.get(field, ())) for field in _fields(parts)},
        revised=revised,
    )


def _fields(parts: Sequence[Drafted]) -> list[str]:
    return list(dict.fromkeys(field for part in parts for field in part.unread))


def _understood(path: Path, options: DraftOptions) -> Drafted:
    raw = regular(path, MAX_BYTES + 1)
    if len(raw) > MAX_BYTES:
        raise UnreadableSheet(f"{path.name}: more than {MAX_BYTES:,} bytes; no schedule is as large")
    return understand(sheets(raw, path.name), path.name, options)


def _refuse_doubles(windows: Sequence[ScheduledWindow]) -> None:
    seen: dict[str, ScheduledWindow] = {}
    for window in windows:
        other = seen.setdefault(window.id, window)
        if other is not window:
            raise UnreadableSheet(
                f"{window.id} stands in {other.file}, row {other.row}, and in {window.file}, row {window.row}"
            )


# A newer schedule.


def _revised(document: Document, made: Draft) -> tuple[dict[str, Any], list[Revised]]:
    """Bring what a schedule says into a plan's data; what the plan says besides stays."""
    data: dict[str, Any] = {**document.data}
    held, new = dict(data.get("openings") or {}), made.data["openings"]
    types = {**((data.get("types") or {}).get("openings") or {})}
    fresh = made.data.get("types", {}).get("openings", {})
    told: list[Revised] = []
    used = {a.get("opening") for a in (data.get("actuators") or {}).values() if isinstance(a, Mapping)}
    for key, own in new.items():
        wanted = {**fresh.get(own.get("type"), {}), **{f: v for f, v in own.items() if f != "type"}}
        if key not in held:
            held[key] = wanted
            told.append(Revised(kind="added", id=key, text=f"{key} added, in {wanted.get('room', 'no room')}"))
            continue
        stands = {**types.get(held[key].get("type"), {}), **held[key]}
        differs = {field: value for field, value in wanted.items() if stands.get(field) != value}
        if differs:
            held[key] = {**held[key], **differs}
            told.extend(_changes(key, stands, differs))
    for key in [key for key in held if key not in new]:
        if key in used:
            text = f"{key} is not in the schedule any more, and actuators move it: take them out first, or keep it"
            told.append(Revised(kind="conflict", id=key, text=text))
        else:
            del held[key]
            told.append(Revised(kind="removed", id=key, text=f"{key} removed"))
    rooms = {**(data.get("rooms") or {})}
    for key, fields in made.data["rooms"].items():
        if key not in rooms:
            rooms[key] = fields
    return {**data, "rooms": rooms, "openings": held}, told


def _changes(key: str, stands: Mapping[str, Any], differs: Mapping[str, Any]) -> Iterator[Revised]:
    sizes = {f: v for f, v in differs.items() if f in ("width_mm", "height_mm")}
    if sizes:
        words = listed(f"{field} {value:g} (was {_was(stands.get(field))})" for field, value in sizes.items())
        yield Revised(kind="resized", id=key, text=f"{key} resized: {words}")
    if "room" in differs:
        yield Revised(kind="moved", id=key, text=f"{key} moved to {differs['room']} (was {_was(stands.get('room'))})")
    if rest := {f: v for f, v in differs.items() if f not in ("width_mm", "height_mm", "room")}:
        words = listed(f"{field} {value} (was {_was(stands.get(field))})" for field, value in rest.items())
        yield Revised(kind="changed", id=key, text=f"{key}: {words}")


def _was(value: Any) -> str:
    return "not given" if value is None else f"{value:g}" if isinstance(value, float) else str(value)
