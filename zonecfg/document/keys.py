"""Keys given another name where they stand: value, comments and order stay."""

from zonecfg.document.reader import Document
from zonecfg.document.text import BREAK
from zonecfg.document.writer import Edit, applied, key_text
from zonecfg.errors import CannotWrite


def with_key_named(document: Document, pointer: str, name: str) -> str:
    """Give the text of a document with another name for the key that a pointer ends in.

    Raises
    ------
    CannotWrite
        The key does not stand on one line.
    """
    place = document.places.of_key(pointer)
    if place is None or place.end_column is None:
        raise CannotWrite(f"{document.file}: {pointer} cannot be given another name by place")
    text = document.places.text.decode("utf-8-sig")
    starts = [0, *(found.end() for found in BREAK.finditer(text))]
    start = starts[place.line - 1] + place.column - 1
    edit = Edit(start, start + place.end_column - place.column, key_text(name))
    bom = "\ufeff" if document.places.text.startswith(b"\xef\xbb\xbf") else ""
    return bom + applied(text, [edit], document.file)
