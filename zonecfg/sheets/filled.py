"""A filled worksheet held against its plan: every value with the place in the plan it belongs to."""

from msgspec import Struct

from zonecfg.errors import UnreadableSheet
from zonecfg.model.site import Site
from zonecfg.results.nearest import did_you_mean
from zonecfg.sheets.columns import TABLES, WORKSHEET, Form
from zonecfg.sheets.raw import RawRow, RawSheet, refuse, right_form
from zonecfg.sheets.sheet import Identity
from zonecfg.sheets.values import Value, value_of


class FilledValue(Struct, frozen=True):
    """One value that was filled in."""

    section: str
    thing: str
    key: str
    value: Value
    at: str
    """Pointer to where it goes in the plan."""
    where: str
    """Where it stands on the sheet."""


class FilledSheet(Struct, frozen=True):
    """All that was filled in, thing by thing."""

    entries: tuple[FilledValue, ...]

    @property
    def by_thing(self) -> dict[tuple[str, str], dict[str, FilledValue]]:
        """Values by section and thing, then by column."""
        found: dict[tuple[str, str], dict[str, FilledValue]] = {}
        for entry in self.entries:
            found.setdefault((entry.section, entry.thing), {})[entry.key] = entry
        return found


def filled(raw: RawSheet, site: Site, *, any_revision: bool = False) -> FilledSheet:
    """Take what was filled in.

    Parameters
    ----------
    raw
        The sheet as it came back.
    site
        The plan it must be of.
    any_revision
        Take a sheet of another revision of the plan, as long as each row still names the same opening.

    Raises
    ------
    UnreadableSheet
        It is of another site or revision, or a cell holds what its column does not take.
    """
    recognise(raw, Identity.of(site), WORKSHEET, any_revision=any_revision)
    entries: list[FilledValue] = []
    faults: list[str] = []
    rows: dict[tuple[str, str], RawRow] = {}
    for row in raw.rows:
        first = rows.setdefault((row.section, row.thing), row)
        if first is not row:
            faults.append(f"{row.where}: {row.thing} stands in {first.where} already")
        elif not _known(row, site, faults):
            continue
        entries += _values(row, faults)
    faults += _double_serials(entries)
    refuse(raw.file, faults)
    return FilledSheet(tuple(entries))


def recognise(raw: RawSheet, identity: Identity, form: Form, *, any_revision: bool = False) -> None:
    """Make sure that a sheet is of a form, a site and a revision of its plan.

    Raises
    ------
    UnreadableSheet
        It is of another.
    """
    right_form(raw.file, raw.format, form)
    if raw.site != identity.site:
        raise UnreadableSheet(
            f"{raw.file}: is a sheet of {raw.site[:60] or 'no site'}; the plan is {identity.site or 'without a name'}; "
            "nothing was recorded"
        )
    if raw.revision != identity.revision and not any_revision:
        way = "" if form.keyed else "--any-revision takes it where every row still names the plan's opening; "
        raise UnreadableSheet(
            f"{raw.file}: is of revision {raw.revision[:40] or 'none'}; the plan is at {identity.revision or 'none'}; "
            f"{way}nothing was recorded"
        )


def _known(row: RawRow, site: Site, faults: list[str]) -> bool:
    things = getattr(site, row.section)
    if row.thing not in things:
        what = f"{row.thing[:60]} is none of the plan's {row.section}" if row.thing else "names nothing"
        faults.append(f"{row.where}: {what}{did_you_mean(row.thing, things)}")
        return False
    opening = row.cells.get("opening")
    if row.section == "actuators" and opening is not None and str(opening.value) != site.actuators[row.thing].opening:
        faults.append(
            f"{opening.where}: {row.thing} is on {str(opening.value)[:60]} here and on "
            f"{site.actuators[row.thing].opening} in the plan: a sheet of another revision, or an edited one"
        )
        return False
    return True


def _values(row: RawRow, faults: list[str]) -> list[FilledValue]:
    columns = {column.key: column for column in TABLES[row.section].columns}
    elsewhere = {c.key: table.name for table in TABLES.values() for c in table.to_fill}
    found = []
    for key, cell in row.cells.items():
        column = columns.get(key)
        if column is None and key in elsewhere:
            faults.append(f"{cell.where}: belongs to {elsewhere[key]}, not to {row.section}")
        elif column is not None and column.fill:
            try:
                value = value_of(cell.value, column)
            except ValueError as error:
                faults.append(f"{cell.where}: {error}")
            else:
                found.append(FilledValue(row.section, row.thing, key, value, column.pointer(row.thing), cell.where))
    return found


def _double_serials(entries: list[FilledValue]) -> list[str]:
    seen: dict[tuple[str, Value], FilledValue] = {}
    faults = []
    for entry in entries:
        if entry.key == "serial":
            first = seen.setdefault((entry.section, entry.value), entry)
            if first is not entry:
                faults.append(
                    f"{entry.where}: {entry.value} is the serial of {first.thing} too ({first.where}); "
                    "one of the two is misread"
                )
    return faults
