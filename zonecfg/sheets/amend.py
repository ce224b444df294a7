"""What a filled sheet means for a record: which values go where, and what must not be mixed."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import msgspec

from zonecfg.model.evidence import ActuatorRecord, Record
from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.pointer import join
from zonecfg.results.recorded import Blank
from zonecfg.sheets.columns import TABLES
from zonecfg.sheets.filled import FilledSheet, FilledValue
from zonecfg.sheets.raw import refuse
from zonecfg.sheets.values import Value

_ESSENTIAL = {
    "actuators": ("serial", "calibrated", "walk_test"),
    "groups": ("walk_test",),
    "sensors": ("serial", "wet_test"),
    "controllers": ("serial", "actuators_counted", "bus_ohm"),
}
_TESTS = {"calibrated", "walk_test", "measured_stroke_mm", "measured_gap_mm", "voltage_moving_v"}


def amendments(file: str, base: Site, found: FilledSheet) -> dict[str, Value]:
    """Give the pointer and value of everything that is to be set.

    Parameters
    ----------
    file
        Name of the sheet, for messages.
    base
        The plan, or the record it goes into.
    found
        What was filled in.

    Raises
    ------
    UnreadableSheet
        A thing of the sheet is not in the record, a serial was read at another window before, or tests of two
        actuators would be mixed.
    """
    faults = [
        f"{next(iter(values.values())).where}: {thing} is not in the record yet; bring it in from the plan first"
        for (section, thing), values in found.by_thing.items()
        if thing not in getattr(base, section)
    ]
    refuse(file, faults)
    refuse(file, [*_read_elsewhere(base, found), *_mixed(base, found)])
    values: dict[str, Value] = {} if base.state == "as-commissioned" else {"/state": "as-commissioned"}
    for entry in found.entries:
        values[entry.at] = entry.value
    for (section, thing), cells in found.by_thing.items():
        if section == "actuators" and "serial" in cells and _tested(cells):
            values[join("record", "actuators", thing, "serial")] = cells["serial"].value
    return values


def order(base: Site) -> dict[str, Sequence[str]]:
    """Give the order that new keys belong in."""
    fields = [field.encode_name for field in msgspec.structs.fields(ActuatorRecord)]
    things: Mapping[str, Sequence[str]] = {
        "controllers": list(base.controllers),
        "actuators": list(base.actuators),
        "groups": list(base.groups),
        "sensors": list(base.sensors),
        "buses": list(base.controllers),
    }
    return {
        "": grammar().order,
        "/record": [field.encode_name for field in msgspec.structs.fields(Record)],
        **{join("record", section): ids for section, ids in things.items()},
        **{join("record", "actuators", actuator): fields for actuator in base.actuators},
    }


def blanks(site: Site, data: Mapping[str, Any], found: FilledSheet) -> Iterator[Blank]:
    """Give what is still missing of a whole record.

    An actuator's serial is missing until it was read: the one that is planned proves nothing. So are the day of a test,
    and who made it.
    """
    read = {entry.thing for entry in found.entries if entry.section == "actuators" and entry.key == "serial"}
    for table in TABLES.values():
        for column in table.to_fill:
            if column.key not in _ESSENTIAL[table.name]:
                continue
            ids = [thing for thing in getattr(site, table.name) if _needs(site, table.name, thing, column.key)]
            if (table.name, column.key) == ("actuators", "serial"):
                lacking = tuple(
                    t for t in ids if t not in read and value_at(data, f"/record/actuators/{t}/serial") is None
                )
            else:
                lacking = tuple(thing for thing in ids if value_at(data, column.pointer(thing)) is None)
            if lacking:
                yield Blank(table.name, column.title, lacking)
    tests = {thing: value_at(data, f"/record/actuators/{thing}") or {} for thing in site.actuators}
    unsigned = [thing for thing, seen in tests.items() if seen.keys() & _TESTS and not {"date", "by"} <= seen.keys()]
    if unsigned:
        yield Blank("actuators", "Date or name of the test", tuple(unsigned))


def value_at(data: Any, pointer: str) -> Any:
    """Value at a pointer below mappings; None where there is none."""
    for step in pointer.split("/")[1:]:
        data = data.get(step) if isinstance(data, dict) else None
    return data


def _needs(site: Site, section: str, thing: str, key: str) -> bool:
    return not (section == "sensors" and key == "wet_test" and site.sensors[thing].measures != "rain")


def _tested(cells: Mapping[str, FilledValue]) -> bool:
    return any(entry.at.startswith("/record/") for entry in cells.values())


def _read_elsewhere(base: Site, found: FilledSheet) -> Iterator[str]:
    """A serial that was read at another window, which the sheet leaves as it was."""
    fitted = {
        (section, t.serial): t.id for section in ("actuators", "sensors") for t in getattr(base, section).values()
    }
    again = {(e.section, e.thing): e.value for e in found.entries if e.key == "serial"}
    for entry in found.entries:
        if entry.key != "serial":
            continue
        owner = fitted.get((entry.section, str(entry.value)))
        if owner in (None, entry.thing) or (entry.section, owner) in again:
            continue
        record = base.record.actuators.get(owner) if entry.section == "actuators" else None
        if base.state == "as-commissioned" and (entry.section == "sensors" or record is not None):
            yield (
                f"{entry.where}: {entry.value} was recorded at {owner}; give the serial that is at {owner} now as well"
            )


def _mixed(base: Site, found: FilledSheet) -> Iterator[str]:
    """A new serial whose row leaves standing what was tested of the actuator before it."""
    for (section, thing), cells in found.by_thing.items():
        old = base.record.actuators.get(thing) if section == "actuators" else None
        new = cells.get("serial")
        if old is None or new is None or old.serial in (None, new.value) or not _tested(cells):
            continue
        left = [
            field
            for field in old.__struct_fields__
            if field != "serial" and getattr(old, field) is not None and field not in cells
        ]
        if left:
            yield (
                f"{new.where}: {thing} was tested with {old.serial}; with {new.value} fitted, fill in "
                f"{', '.join(left)} anew or leave all tests blank"
            )
