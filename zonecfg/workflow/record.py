"""A filled worksheet becomes the as-commissioned record: measured values in, everything else as it was."""

from datetime import date
from importlib import import_module
from pathlib import Path
from typing import Any

from zonecfg.document.catalogue import OutsideRepository, locate
from zonecfg.document.reader import Document, read
from zonecfg.document.rewrite import rewritten
from zonecfg.document.values import with_values
from zonecfg.document.writer import same_value
from zonecfg.errors import CannotRead, CannotWrite, UnreadableSheet, UnreadableSite
from zonecfg.figures import Figures
from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.recorded import Recorded
from zonecfg.sheets.against import against_plan
from zonecfg.sheets.amend import amendments, blanks, order, value_at
from zonecfg.sheets.columns import TABLES, FormFor, worksheet_form
from zonecfg.sheets.filled import FilledSheet, filled
from zonecfg.sheets.raw import MAX_BYTES, RawSheet
from zonecfg.sheets.sheet import Identity
from zonecfg.sheets.values import Value
from zonecfg.workflow.load import Loader
from zonecfg.workflow.paths import PlanFile
from zonecfg.workflow.plan import plan_of, whole
from zonecfg.workflow.regular import regular, within
from zonecfg.workflow.schemas import pointing
from zonecfg.workflow.write import spare, write_bytes

READERS = {
    ".xlsx": "zonecfg.sheets.read_xlsx",
    ".csv": "zonecfg.sheets.read_csv",
    ".json": "zonecfg.sheets.read_json",
}


def record(
    path: Path, sheet: Path, output: Path, today: date, *, force: bool = False, any_revision: bool = False
) -> Recorded:
    """Bring a filled worksheet into the as-commissioned file.

    Parameters
    ----------
    path
        The plan the sheet was made of.
    sheet
        The filled sheet: .xlsx, .csv, or the .json that the page exports.
    output
        The as-commissioned file: a new one is made of the plan; one of this site is brought up to date.
    today
        The day that tests are judged by: none can have been made later.
    force
        Make it anew of the plan, whatever stands there.
    any_revision
        Take a sheet of another revision of the plan.

    Raises
    ------
    CannotRead, UnreadableSite
        The plan or the sheet cannot be opened, or the plan has faults of reading.
    UnreadableSheet
        The sheet cannot be taken as it is; nothing was written.
    CannotWrite
        What stands at ``output`` is no record of this site, or cannot be changed.
    """
    where, state, plan = plan_of(path)
    found = filled(read_sheet(sheet), plan, any_revision=any_revision)
    _spare_the_plan(where, plan, output)
    spare(output, sheet, *(locate(where, written) for written in plan.own.get("catalogue") or ()))
    if output.is_symlink() and output.exists():
        raise CannotWrite(f"{output.as_posix()} is a link; name the file it leads to")
    stands = None if force else _standing(output, plan)
    document, base = stands or (state.document, plan)
    if stands is None:
        _catalogues_found(plan, where, output)
    values = amendments(sheet.name, base, found)
    wanted = with_values(document, values, order(base))
    text, _ = rewritten(document, wanted, as_text=grammar().as_written, quoted=grammar().quoted)
    if stands is None:
        text = pointing(text, output, "site", where)
    old = document.places.text

    def said_as_meant(raw: bytes) -> None:
        if not same_value(read(raw, document.file, grammar().as_written).data, wanted):
            raise CannotWrite(f"{output.as_posix()}: what was written is not what was meant; nothing was kept")
        if stands is not None and output.read_bytes() != old:
            raise CannotWrite(f"{output.as_posix()} was changed by somebody else meanwhile; run it again")

    write_bytes(output, text.encode(), force=stands is not None or force, before=said_as_meant)
    against = tuple(against_plan(Figures(plan), found, today))
    return _told(output, plan, document, found, values, wanted, against, updated=stands is not None)


def read_sheet(sheet: Path, form_for: FormFor = worksheet_form) -> RawSheet:
    """Read a filled sheet by its suffix.

    Raises
    ------
    CannotRead
        It cannot be opened.
    UnreadableSheet
        It is too large, of no form that is known, or its form is broken.
    """
    suffix = sheet.suffix.lower()
    if suffix in (".html", ".htm"):
        raise UnreadableSheet(
            f"{sheet.name}: a page keeps what was typed in its browser; press Export there, bring the .json"
        )
    if suffix not in READERS:
        raise UnreadableSheet(f"{sheet.name}: a filled sheet is .xlsx, .csv, or the .json that the page exports")
    if sheet.is_symlink():
        within(sheet, sheet.as_posix())
    raw = regular(sheet, MAX_BYTES + 1)
    if len(raw) > MAX_BYTES:
        raise UnreadableSheet(f"{sheet.name}: more than the {MAX_BYTES:,} bytes that a sheet may have")
    read: RawSheet = import_module(READERS[suffix]).read(raw, sheet.name, form_for)
    return read


def _spare_the_plan(where: Path, plan: Site, output: Path) -> None:
    if plan.state != "as-commissioned" and output.exists() and output.samefile(where):
        raise CannotWrite(f"{output.as_posix()} is the plan itself; name another file")


def _standing(output: Path, plan: Site) -> tuple[Document, Site] | None:
    """Read the record that stands there already."""
    if not output.exists():
        return None
    try:
        state = Loader().state(PlanFile(output, output.as_posix()))
        site = whole(state)
    except (CannotRead, UnreadableSite) as error:
        raise CannotWrite(f"{output.as_posix()} stands there and is no record to go on with: {error}") from None
    if site.state != "as-commissioned" or Identity.of(site).site != Identity.of(plan).site:
        raise CannotWrite(
            f"{output.as_posix()} stands there already and is no record of this site; --force replaces it"
        )
    return state.document, site


def _catalogues_found(plan: Site, where: Path, output: Path) -> None:
    for written in plan.own.get("catalogue") or ():
        try:
            there = locate(output, written)
            found = there.is_file() and there.samefile(locate(where, written))
        except (OutsideRepository, OSError):
            found = False
        if not found:
            raise CannotWrite(
                f"{output.as_posix()}: the catalogue {written} is not found from there; write it beside the plan"
            )


def _told(
    output: Path,
    site: Site,
    document: Document,
    found: FilledSheet,
    values: dict[str, Value],
    data: Any,
    against: tuple[str, ...],
    *,
    updated: bool,
) -> Recorded:
    earlier = {at: old for at in values if (old := value_at(document.data, at)) is not None and at != "/state"}
    return Recorded(
        path=output.as_posix(),
        values=len(found.entries),
        new=sum(1 for entry in found.entries if earlier.get(entry.at) != entry.value),
        rows={
            name: (len({e.thing for e in found.entries if e.section == name}), len(getattr(site, name)))
            for name in TABLES
        },
        against=against,
        before=tuple(
            f"{entry.thing}: {entry.key} was {earlier[entry.at]}, is {entry.value} now"
            for entry in found.entries
            if updated and entry.at in earlier and earlier[entry.at] != entry.value
        ),
        blank=tuple(blanks(site, data, found)),
        updated=updated,
    )
