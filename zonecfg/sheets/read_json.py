"""What the page for a phone exports, or what somebody made of it by hand."""

import json
from typing import Any, NoReturn

from zonecfg.errors import UnreadableSheet
from zonecfg.results.nearest import did_you_mean
from zonecfg.sheets.columns import FormFor, worksheet_form
from zonecfg.sheets.raw import MAX_CELL, RawCell, RawRow, RawSheet, refuse, right_form


def read(raw: bytes, file: str, form_for: FormFor = worksheet_form) -> RawSheet:
    """Take an export apart.

    Raises
    ------
    UnreadableSheet
        It is no export, or holds what no export holds.
    """
    data = _parsed(raw, file)
    if not isinstance(data, dict):
        raise UnreadableSheet(f"{file}: this is no export of a worksheet")
    form = form_for(data["key"] if isinstance(data.get("key"), str) else "")
    right_form(file, data["format"] if isinstance(data.get("format"), str) else None, form)
    said = ("format", "site", "revision", *(("key",) if form.keyed else ()))
    keys = (*said, "entries")
    faults = [f"{key[:60]}: no export holds this{did_you_mean(key, keys)}" for key in data if key not in keys]
    faults += [f"{key}: is missing, or is no text" for key in said if not isinstance(data.get(key), str)]
    refuse(file, faults)
    found = []
    for section, things in _mapping(data.get("entries"), "entries", faults).items():
        if section not in form.tables:
            faults.append(f"{section[:60]}: is none of {', '.join(form.tables)}{did_you_mean(section, form.tables)}")
            continue
        columns = {column.key for column in form.tables[section].to_fill}
        for thing, values in _mapping(things, section, faults).items():
            where = f"{section}, row {thing[:60]}"
            cells = {}
            for key, value in _mapping(values, where, faults).items():
                if key not in columns:
                    faults.append(f"{where}, column {key[:60]}: is not filled in there{did_you_mean(key, columns)}")
                elif not isinstance(value, (str, int, float, bool)):
                    faults.append(f"{where}, column {key}: holds a list or mapping, or nothing")
                elif isinstance(value, str) and len(value) > MAX_CELL:
                    faults.append(f"{where}, column {key}: {len(value)} characters; {MAX_CELL:,} is the most")
                elif not isinstance(value, str) or value.strip():
                    cells[key] = RawCell(f"{where}, column {key}", value.strip() if isinstance(value, str) else value)
            found.append(RawRow(section, thing, where, cells))
    refuse(file, faults)
    return RawSheet(file=file, rows=tuple(found), **{key: data[key] for key in said})


def _parsed(raw: bytes, file: str) -> Any:
    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        keys = [key for key, _ in pairs]
        double = next((key for key in keys if keys.count(key) > 1), None) if len(set(keys)) < len(keys) else None
        if double is not None:
            raise UnreadableSheet(f"{file}: {double[:60]}: stands twice; nothing was recorded")
        return dict(pairs)

    def no_number(word: str) -> NoReturn:
        raise UnreadableSheet(f"{file}: {word} is no number a sheet can hold; nothing was recorded")

    try:
        return json.loads(raw.decode("utf-8-sig"), object_pairs_hook=once, parse_constant=no_number)
    except UnicodeDecodeError:
        raise UnreadableSheet(f"{file}: this is not UTF-8") from None
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise UnreadableSheet(f"{file}: {place}: this is not JSON; nothing was recorded") from None
    except (RecursionError, ValueError):
        raise UnreadableSheet(
            f"{file}: nested too deep, or a number of too many digits; nothing was recorded"
        ) from None


def _mapping(value: Any, where: str, faults: list[str]) -> dict[str, Any]:
    if isinstance(value, dict):
        return value
    faults.append(f"{where}: is no mapping")
    return {}
