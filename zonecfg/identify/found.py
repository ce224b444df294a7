"""The list of actuators that were found on the bus, as somebody wrote or exported it."""

import csv
import io
from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

from zonecfg.errors import UnreadableSheet
from zonecfg.results.nearest import did_you_mean
from zonecfg.sheets.values import BECAME_A_NUMBER, became_a_number

COLUMNS = ("serial", "controller", "type", "set", "order", "state")
"""``serial`` is needed; ``set`` names actuators that move together, ``order`` counts along the bus."""

MOST_BYTES = 5_000_000
_MOST_ROWS = 100_000


class OnBus(Struct, frozen=True, kw_only=True):
    """One actuator on the bus; ``row`` is its line in the file."""

    serial: str
    row: int
    controller: str | None = None
    type: str | None = None
    set: str | None = None
    order: int | None = None
    state: str | None = None


def read_found(path: Path) -> list[OnBus]:
    """Read a found list: CSV in UTF-8, commas or semicolons, the first row naming its columns.

    Raises
    ------
    UnreadableSheet
        Wrong columns, a serial that is missing or stands twice, an order that is no whole number; row and column are
        named.
    """
    name = path.as_posix()
    try:
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise UnreadableSheet(f"{name}: {error.strerror}") from None
    if len(raw) > MOST_BYTES:
        raise UnreadableSheet(f"{name}: more than {MOST_BYTES:,} bytes are no found list")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise UnreadableSheet(f"{name}: not UTF-8; save it as CSV in UTF-8") from None
    first = text.split("\n", 1)[0]
    rows = csv.reader(io.StringIO(text), delimiter=";" if first.count(";") > first.count(",") else ",", strict=True)
    try:
        return list(_entries(name, rows))
    except csv.Error as error:
        raise UnreadableSheet(f"{name}: not CSV near row {rows.line_num}: {error}") from None


def _entries(name: str, rows: Iterator[list[str]]) -> Iterator[OnBus]:
    header = [cell.strip().lower() for cell in next(rows, [])]
    for number, column in enumerate(header, 1):
        if column not in COLUMNS:
            raise UnreadableSheet(
                f"{name}: row 1, column {number}: {column or 'an empty name'} is none of {', '.join(COLUMNS)}"
                f"{did_you_mean(column, COLUMNS)}"
            )
        if header.index(column) != number - 1:
            raise UnreadableSheet(f"{name}: row 1, column {number}: {column} stands twice")
    if "serial" not in header:
        raise UnreadableSheet(f"{name}: row 1: a column serial is needed")
    seen: dict[str, int] = {}
    for row, cells in enumerate(rows, 2):
        if not any(cell.strip() for cell in cells):
            continue
        if row > _MOST_ROWS:
            raise UnreadableSheet(f"{name}: more than {_MOST_ROWS:,} rows")
        if len(cells) > len(header):
            raise UnreadableSheet(f"{name}: row {row}: {len(cells)} cells under {len(header)} columns")
        entry = {column: cell.strip() for column, cell in zip(header, cells, strict=False) if cell.strip()}
        serial = entry.get("serial")
        if serial is None:
            raise UnreadableSheet(f"{name}: row {row}, column serial: no serial")
        if became_a_number(serial):
            raise UnreadableSheet(f"{name}: row {row}, column serial: {serial}: {BECAME_A_NUMBER}")
        if serial in seen:
            raise UnreadableSheet(f"{name}: row {row}, column serial: {serial} stands in row {seen[serial]} already")
        seen[serial] = row
        yield OnBus(**{**entry, "serial": serial, "row": row, "order": _order(name, row, entry.get("order"))})  # type: ignore[arg-type]


def _order(name: str, row: int, written: str | None) -> int | None:
    if written is None:
        return None
    if not written.isascii() or not written.isdigit() or len(written) > 6:
        raise UnreadableSheet(f"{name}: row {row}, column order: {written} is no whole number")
    return int(written)
