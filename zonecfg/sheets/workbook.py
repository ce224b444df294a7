"""A look into a workbook before anything is read from it: how large it is, and which cells hold formulas."""

import io
import lzma
import re
import zipfile
import zlib
from collections import Counter
from typing import NamedTuple, NoReturn
from xml.parsers import expat

from zonecfg.errors import UnreadableSheet

MAX_UNPACKED = 64_000_000
MAX_MEMBERS = 2_000
MAX_SHEETS = 100
MAX_TEXT = 64_000_000
"""Characters in all cells, a shared text counted as often as cells show it: what reads it makes each anew."""
MAX_ROW = 200_000
MAX_COLUMN = 200
MAX_AREA = 4_000_000
"""Cells from the first to the last row and column of one sheet: what reads it makes room for all of them."""
_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})\Z")
_CHUNK = 1 << 20


class Formula(NamedTuple):
    """A cell that holds a formula."""

    row: int
    column: int


def formulas(raw: bytes, file: str) -> dict[str, frozenset[Formula]]:
    """Make sure that a workbook can be read in bounded memory, and find its formulas.

    Nothing is unpacked beyond what the bounds allow, and no word of the archive about its own size is believed.

    Returns
    -------
    dict
        Sheet name to the cells that hold formulas; rows and columns count from 1.

    Raises
    ------
    UnreadableSheet
        It is no workbook, is too large unpacked, or is built to harm.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as archive:
            infos = archive.infolist()
            size = sum(info.file_size for info in infos)
            if len(infos) > MAX_MEMBERS or size > MAX_UNPACKED:
                raise UnreadableSheet(
                    f"{file}: unpacks to {size:,} bytes in {len(infos)} parts; {MAX_UNPACKED:,} is the most"
                )
            names = {info.filename for info in infos}
            if "xl/workbook.xml" not in names or len(names) < len(infos):
                raise UnreadableSheet(f"{file}: this is no .xlsx workbook")
            # Reading a member to its end checks its sum: a part larger than it says does not pass.
            scans = {name: _scan(archive, name, file) for name in sorted(names)}
    except _DAMAGED:
        raise UnreadableSheet(f"{file}: this is no .xlsx workbook, or it is damaged or locked") from None
    shown = sum(number * _length(scans, index) for scan in scans.values() for index, number in scan.shown.items())
    if shown > MAX_TEXT:
        raise UnreadableSheet(f"{file}: its cells show {shown:,} characters; {MAX_TEXT:,} is the most")
    parts = _sheet_parts(scans, file)
    return {sheet: frozenset(scans[part].formulas) for sheet, part in parts.items()}


def _length(scans: "dict[str, _Scan]", index: int) -> int:
    texts = next((scan.texts for name, scan in scans.items() if name.lower() == "xl/sharedstrings.xml"), [])
    return texts[index] if index < len(texts) else 0


_DAMAGED = (
    *(zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error, lzma.LZMAError),
    *(NotImplementedError, RuntimeError, EOFError, OSError, ValueError),
)
"""What reading a broken archive ends in."""


class _Scan:
    """What the elements of one part say."""

    def __init__(self, name: str, file: str) -> None:
        self.formulas: set[Formula] = set()
        self.sheets: list[tuple[str, str]] = []
        self.targets: dict[str, str] = {}
        self.is_sheet = False
        self.texts: list[int] = []
        """Length of each shared text."""
        self.shown: Counter[int] = Counter()
        """How many cells show a shared text, by its number."""
        self._shares = False
        self._inside = ""
        self._number_text = ""
        self._row = self._column = self._last_row = self._last_column = 0
        self._name, self._file = name, file
        self._parser = expat.ParserCreate(namespace_separator=" ")
        self._parser.StartElementHandler = self._start
        self._parser.StartDoctypeDeclHandler = self._doctype
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._words

    def feed(self, chunk: bytes, *, last: bool) -> None:
        try:
            self._parser.Parse(chunk, last)
        except (expat.ExpatError, LookupError) as error:  # LookupError: an encoding that nobody knows
            raise UnreadableSheet(f"{self._file}: {self._name} is not XML: {error}") from None

    def _doctype(self, *_: object) -> NoReturn:
        raise UnreadableSheet(f"{self._file}: {self._name} defines entities of its own, which no workbook needs")

    def _words(self, words: str) -> None:
        if self._inside == "t" and self.texts:
            self.texts[-1] += len(words)
        elif self._inside == "v" and self._shares and len(self._number_text) < 12:
            self._number_text += words

    def _end(self, tag: str) -> None:
        if tag.endswith(" v") and self._shares and self._number_text.strip().isdecimal():
            self.shown[int(self._number_text)] += 1
        self._inside = ""

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        name = self._inside = tag.rpartition(" ")[2]
        if name == "si":
            self.texts.append(0)
        elif name == "v":
            self._number_text = ""
        if name == "row":
            self._row, self._column = self._number(attributes.get("r"), self._row + 1), 0
        elif name == "c":
            self._row, self._column = self._at(attributes.get("r"), self._row, self._column + 1)
            self._last_row = max(self._last_row, self._row)
            self._last_column = max(self._last_column, self._column)
            self._shares = attributes.get("t") == "s"
        elif name == "f":
            self.formulas.add(Formula(self._row, self._column))
        elif name == "worksheet":
            self.is_sheet = True
        elif name == "sheet":
            link = next((value for key, value in attributes.items() if key.endswith(" id")), "")
            self.sheets.append((attributes.get("name", ""), link))
            if len(self.sheets) > MAX_SHEETS:
                raise UnreadableSheet(f"{self._file}: more than the {MAX_SHEETS} sheets that a workbook may have")
        elif name == "Relationship":
            self.targets[attributes.get("Id", "")] = attributes.get("Target", "")
        too_far = self._row > MAX_ROW or self._column > MAX_COLUMN
        if too_far or self._last_row * self._last_column > MAX_AREA:
            raise UnreadableSheet(
                f"{self._file}: {self._name}: a cell in row {self._row}, column {self._column}; a worksheet has "
                f"at most {MAX_ROW:,} rows, {MAX_COLUMN} columns and {MAX_AREA:,} cells"
            )

    def _number(self, text: str | None, otherwise: int) -> int:
        if text is None:
            return otherwise
        if not text.isascii() or not text.isdigit() or len(text) > 8:
            raise UnreadableSheet(f"{self._file}: {self._name}: {text[:30]} is no number of a row")
        return int(text)

    def _at(self, reference: str | None, row: int, column: int) -> tuple[int, int]:
        if reference is None:
            return row, column
        if (match := _CELL.fullmatch(reference)) is None:
            raise UnreadableSheet(f"{self._file}: {self._name}: {reference[:30]} is no cell")
        number = 0
        for letter in match[1]:
            number = number * 26 + ord(letter) - 64
        return int(match[2]), number


def _scan(archive: zipfile.ZipFile, name: str, file: str) -> _Scan:
    scan = _Scan(name, file)
    is_xml = name.lower().endswith((".xml", ".rels"))
    with archive.open(name) as member:
        while chunk := member.read(_CHUNK):
            if is_xml:
                scan.feed(chunk, last=False)
    if is_xml:
        scan.feed(b"", last=True)
    return scan


def _sheet_parts(scans: dict[str, _Scan], file: str) -> dict[str, str]:
    """Tell which part each sheet is."""
    links = scans.get("xl/_rels/workbook.xml.rels")
    parts = {}
    for sheet, link in scans["xl/workbook.xml"].sheets:
        target = links.targets.get(link, "") if links else ""
        part = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
        if part not in scans or not part.lower().endswith(".xml"):
            raise UnreadableSheet(f"{file}: the sheet {sheet[:60]} is not in the workbook")
        parts[sheet] = part
    return parts
