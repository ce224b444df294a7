"""A text made to hold other data: what stays the same stays byte for byte, what is new comes as another text has it."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from typing import Any

from zonecfg.document.chunks import (
    Chunk,
    behind_marker,
    chunks,
    column_of,
    heads_of,
    line_end,
    line_spans,
)
from zonecfg.document.donor import Donor, Identity, entry_of, inner, numbered, shifted, what_it_holds
from zonecfg.document.flow import flow_edits
from zonecfg.document.nodes import TextNode, nodes
from zonecfg.document.reader import Document, read
from zonecfg.document.text import BREAK
from zonecfg.document.wording import is_scalar, made_entry, written_as_block, written_in_line
from zonecfg.document.writer import Edit, applied, key_text, same_value
from zonecfg.errors import CannotWrite
from zonecfg.results.pointer import split


def rewritten(
    document: Document,
    wanted: Any,
    *,
    as_text: AbstractSet[str] = frozenset(),
    quoted: AbstractSet[str] = frozenset(),
    donor: Document | None = None,
    gone: AbstractSet[str] = frozenset(),
    known: AbstractSet[str] = frozenset(),
    identity: Identity = repr,
) -> tuple[str, list[Edit]]:
    """Make a document's text hold other data.

    Parameters
    ----------
    document
        A document without faults of reading.
    wanted
        What it shall hold: a mapping.
    as_text
        Keys whose plain values stay as written, as the document was read with.
    quoted
        Keys whose new values are written in quotes.
    donor
        A document that new things are taken from as they are written there.
    gone
        Comment lines that go with the thing they stand above.
    known
        Comment lines that do not come along with a new thing, since the text has or had them.
    identity
        What an item of a list is known by.

    Returns
    -------
    str
        The text, byte order mark included.
    list of Edit
        How it came from the old one, in the order of the text; places do not count a byte order mark.

    Raises
    ------
    CannotWrite
        A place cannot be changed in its text alone.
    """
    text = document.places.text.decode()
    bare = text.removeprefix("\ufeff")
    task = _Rewriter(bare, gone, known, identity, quoted)
    root = nodes(bare)
    stretch = behind_marker(bare, root), len(bare)
    task.value(root, document.data, wanted, stretch, Donor.of(donor) if donor else None, None)
    edits = sorted(task.edits, key=lambda edit: edit[:2])
    new = text[: len(text) - len(bare)] + applied(bare, edits, document.file)
    if not same_value(read(new.encode(), document.file, as_text).data, wanted):
        raise CannotWrite(f"{document.file}: a place cannot be changed without touching what stands around it")
    return new, edits


def with_keys(document: Document, names: Mapping[str, str]) -> str:
    """Give keys another name where they stand: pointer of the key to its new name; for steps of ``migrate``."""
    text = document.places.text.decode()
    bare = text.removeprefix("\ufeff")
    edits = []
    for pointer, name in names.items():
        *above, last = split(pointer)
        node = nodes(bare)
        for step in above:
            node = (node.items or {})[step][1]
        label, _ = (node.items or {})[last]
        edits.append(Edit(label.start, label.end, key_text(name)))
    return text[: len(text) - len(bare)] + applied(bare, sorted(edits), document.file)


class _Rewriter:
    def __init__(
        self, text: str, gone: AbstractSet[str], known: AbstractSet[str], identity: Identity, quoted: AbstractSet[str]
    ) -> None:
        self.edits: list[Edit] = []
        self._text = text
        self._gone = gone
        self._known = known
        self._identity = identity
        self._quoted = quoted
        found = BREAK.search(text)
        self._newline = found[0] if found else "\n"

    def value(
        self,
        node: TextNode,
        data: Any,
        wanted: Any,
        stretch: tuple[int, int],
        donor: Donor | None,
        label: TextNode | None,
        key: str = "",
        *,
        in_flow: bool = False,
    ) -> None:
        """Make one value what it shall be; its label is the key it stands under."""
        if same_value(data, wanted):
            return
        if isinstance(data, dict) and isinstance(wanted, dict) and _can_go_on(node, data, wanted):
            self._entries(node, list(data), list(wanted), data, wanted, stretch, donor)
        elif isinstance(data, list) and isinstance(wanted, list) and self._can_keep_items(data, wanted):
            names, new = numbered(data, self._identity), numbered(wanted, self._identity)
            self._entries(
                node, names, new, dict(zip(names, data, strict=True)), dict(zip(new, wanted, strict=True)), stretch,
                donor,
            )  # fmt: skip
        elif label is None:
            raise CannotWrite("a whole document or an item of a list cannot become something else")
        else:
            self._replace(node, wanted, stretch, donor, label, key, in_flow=in_flow)

    def _can_keep_items(self, data: list[Any], wanted: list[Any]) -> bool:
        names, new = numbered(data, self._identity), numbered(wanted, self._identity)
        kept = [name for name in names if name in set(new)]
        return bool(kept) and kept == [name for name in new if name in set(names)]

    def _entries(
        self,
        node: TextNode,
        names: list[Any],
        new: list[Any],
        data: Mapping[Any, Any],
        wanted: Mapping[Any, Any],
        stretch: tuple[int, int],
        donor: Donor | None,
    ) -> None:
        """Change, take out and put in entries of a mapping or list of which some stay."""
        heads = heads_of(node)
        listed = node.items is None
        stretches = [] if node.flow else chunks(self._text, node, *stretch)
        held_by = what_it_holds(donor, self._identity)
        for index, name in enumerate(names):
            if name not in wanted:
                continue
            if same_value(data[name], wanted[name]):
                continue
            label, value = heads[index]
            inside = donor.within(held_by[name]) if donor and name in held_by else None
            within = inner(self._text, node, label, value, 0 if node.flow else stretches[index].end)
            self.value(
                value, data[name], wanted[name], within, inside, None if listed else label, "" if listed else name,
                in_flow=node.flow,
            )  # fmt: skip
        as_donor = not listed and all(name in held_by or name in data for name in wanted)
        order = list(held_by) if as_donor else new
        fresh = _placed([n for n in names if n in wanted], order, [name for name in new if name not in data])
        if node.flow:

            def written(name: Any) -> str:
                inside = donor.within(held_by[name]) if donor and name in held_by else None
                value = written_in_line(inside, wanted[name], "" if listed else name, self._quoted)
                return value if listed else f"{key_text(name)}: {value}"

            self.edits += flow_edits(self._text, node, names, wanted.keys(), fresh, written)
        else:
            self._block_entries(node, names, wanted, fresh, stretches, donor, held_by)

    # Block style

    def _block_entries(
        self,
        node: TextNode,
        names: list[Any],
        wanted: Mapping[Any, Any],
        fresh: Mapping[Any, list[Any]],
        stretches: Sequence[Chunk],
        donor: Donor | None,
        held_by: Mapping[Any, Any],
    ) -> None:
        column = column_of(self._text, node.start)
        kept = [index for index, name in enumerate(names) if name in wanted]
        for index, name in enumerate(names):
            if name not in wanted:
                self._drop(stretches, index, kept, column)
        at = {name: index for index, name in enumerate(names)}
        for before, entries in fresh.items():
            if not kept:
                place = stretches[-1].end
            else:
                place = stretches[at[before]].end if before is not None else stretches[kept[0]].start
            if kept and before is None and column_of(self._text, place):
                place = stretches[kept[0]].end
            if before is not None and not self._keeps_blank_lines(heads_of(node)[at[before]][1]):
                place = self._above_blank_lines(stretches[at[before]].start, place)
            body = "".join(
                self._entry(name, wanted[name], column, donor, held_by, listed=node.items is None) for name in entries
            )
            if column_of(self._text, place):  # the last line of the file has no end
                body = self._newline + body.removesuffix(self._newline)
            self.edits.append(Edit(place, place, body))

    def _keeps_blank_lines(self, value: TextNode) -> bool:
        """Whether the blank lines behind a block of text are a part of it."""
        return "+" in self._text[value.start : value.start + 3].split("\n")[0]

    def _above_blank_lines(self, start: int, end: int) -> int:
        spans = list(line_spans(self._text, start, end))
        while len(spans) > 1 and not self._text[slice(*spans[-1])].strip():
            end, _ = spans.pop()
        return end

    def _drop(self, stretches: Sequence[Chunk], index: int, kept: Sequence[int], column: int) -> None:
        chunk = stretches[index]
        if column_of(self._text, chunk.start):
            following = stretches[kept[0] if kept else index]
            if kept[:1] != [index + 1] or following.lead != following.start:
                raise CannotWrite("the first field of an item of a list cannot be taken out alone")
            self.edits.append(Edit(chunk.start, following.start + column, ""))
            return
        above = list(line_spans(self._text, chunk.lead, chunk.start))
        leaving = [span for span in above if self._text[slice(*span)].strip() in self._gone]
        blank = [span for span in above if not self._text[slice(*span)].strip()]
        if column == 0 and len(leaving) + len(blank) == len(above):
            leaving = above
        self.edits += [Edit(*span, "") for span in leaving]
        self.edits.append(Edit(chunk.start, chunk.end, ""))

    def _entry(
        self, name: Any, wanted: Any, column: int, donor: Donor | None, held_by: Mapping[Any, Any], *, listed: bool
    ) -> str:
        """Write a new entry of a block as whole lines."""
        head = "- " if listed else f"{key_text(name)}:"
        if donor is None or name not in held_by:
            apart = self._newline if column == 0 and not listed else ""  # sections stand apart
            return apart + made_entry(head, wanted, column, "" if listed else name, self._newline, self._quoted)
        inside = donor.within(held_by[name])
        if donor.node.flow:
            value = written_in_line(inside, wanted, "" if listed else name, self._quoted)
            return f"{' ' * column}{head.rstrip()} {value}{self._newline}"
        body, above = entry_of(donor, list(held_by).index(name))
        body = (
            body if same_value(inside.data, wanted) else self._changed(body, name, inside.data, wanted, listed=listed)
        )
        comments = [line for line in above if line.strip() not in self._known]
        return "".join(shifted([*comments, *body.splitlines()], column, self._newline))

    def _changed(self, body: str, name: Any, data: Any, wanted: Any, *, listed: bool) -> str:
        """Make an entry that comes from elsewhere say something else than it does there."""
        task = _Rewriter(body, self._gone, self._known, self._identity, self._quoted)
        root = nodes(body)
        (label, value) = heads_of(root)[0]
        within = inner(body, root, label, value, len(body))
        task.value(value, data, wanted, within, None, None if listed else label, "" if listed else name)
        return applied(body, sorted(task.edits, key=lambda edit: edit[:2]), "")

    def _replace(
        self,
        node: TextNode,
        wanted: Any,
        stretch: tuple[int, int],
        donor: Donor | None,
        label: TextNode,
        key: str,
        *,
        in_flow: bool,
    ) -> None:
        block = (
            ""
            if in_flow
            else written_as_block(node, wanted, donor, column_of(self._text, label.start), self._newline, self._quoted)
        )
        written = "" if block else written_in_line(donor, wanted, key, self._quoted)
        colon = self._text.index(":", label.end) + 1
        old_block = not node.flow and (node.items or node.members)
        if old_block:
            stretches = chunks(self._text, node, *stretch)
            if written:
                self.edits.append(Edit(colon, colon, f" {written}"))
            self.edits += [Edit(chunk.start, chunk.end, "") for chunk in stretches]  # the comments above them stay
            if block:
                self.edits.append(Edit(stretches[-1].end, stretches[-1].end, block))
        elif self._text[node.start : node.start + 1] in ("|", ">") and is_scalar(node):
            self.edits.append(Edit(colon, node.end, f" {written}{self._newline}" if written else self._newline + block))
        elif written:
            start, end = (colon, colon) if node.empty else (node.start, node.end)
            self.edits.append(Edit(start, end, f" {written}" if node.empty else written))
        else:
            self.edits.append(Edit(colon, colon if node.empty else node.end, ""))
            place = line_end(self._text, colon if node.empty else node.end)
            if column_of(self._text, place):
                block = self._newline + block.removesuffix(self._newline)
            self.edits.append(Edit(place, place, block))


def _can_go_on(node: TextNode, data: Mapping[str, Any], wanted: Mapping[str, Any]) -> bool:
    """Whether a mapping can be changed entry by entry: one stays, or it is a block with something new in it."""
    return any(key in wanted for key in data) or bool(data and wanted and not node.flow)


def _placed(kept: Sequence[Any], order: Iterable[Any], new: Sequence[Any]) -> dict[Any, list[Any]]:
    """Put each new entry behind the nearest one before it that stays; those without one come first.

    Where the order knows none of those that stay, the new ones come last.
    """
    stays, coming = set(kept), set(new)
    found: dict[Any, list[Any]] = {}
    before = None
    for name in order:
        if name in stays:
            before = name
        elif name in coming:
            found.setdefault(before, []).append(name)
    return found if before is not None or not found or not kept else {kept[-1]: found[None]}
