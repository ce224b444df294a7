"""Two files that were made from one, put together by what they say; git's merge driver for plans."""

import re
from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any

from msgspec import structs

from zonecfg.compare.facts import facts
from zonecfg.compare.merge import Merged
from zonecfg.compare.merge import merged_data as merge_data
from zonecfg.compare.sets import as_data, laid_out
from zonecfg.compare.tied import Thing, things, with_neighbours
from zonecfg.compare.words import dispute
from zonecfg.compare.worse import grown
from zonecfg.document.markers import marked
from zonecfg.document.places import Places
from zonecfg.document.reader import Document, read
from zonecfg.document.rewrite import rewritten
from zonecfg.errors import CannotWrite
from zonecfg.model.grammar import grammar
from zonecfg.results.finding import Finding
from zonecfg.results.merged import Merging
from zonecfg.results.pointer import split
from zonecfg.workflow.check import check_state
from zonecfg.workflow.load import Loader, catalogue_of, content
from zonecfg.workflow.revisions import GitRefuses, line_merge
from zonecfg.workflow.write import refuse_standing, write_bytes

Told = Mapping[tuple[str, str], Finding]
"""Findings of one side by what makes them the same on both."""

_NEAR = 4
"""So many names away from a joint finding its makers are sought."""
_LINES = re.compile(r" \(lines? [0-9, ]+\)$")
_COMMENT = re.compile(r"(?:^|\s)(#.*\S)\s*$")


def merge_files(
    base: Path,
    ours: Path,
    theirs: Path,
    output: Path,
    today: date,
    *,
    path: Path | None = None,
    marker_size: int = 7,
    labels: tuple[str, str] = ("ours", "theirs"),
    force: bool = False,
) -> Merging:
    """Merge three files and write the result, conflicts between markers.

    Parameters
    ----------
    base, ours, theirs
        The file both sides began with, and what each made of it.
    output
        Where the merged file goes; it may be ``ours``.
    today
        The day that acceptances are judged by.
    path
        Where the file has its place, for its catalogues and for what is told; ``ours`` by itself.
    marker_size
        How many signs a conflict marker has.
    labels
        What markers call the two sides.
    force
        Replace another file than ``ours`` that stands at ``output``.

    Raises
    ------
    CannotRead, GitRefuses, CannotWrite
        A file cannot be read, merged or written; then ``output`` is as it was.
    """
    replaces = output.exists() and output.samefile(ours)
    if not replaces:
        refuse_standing([output], force=force)
    stood = content(ours) if replaces else b""
    answer = merge(base, ours, theirs, today, path=path or ours, marker_size=marker_size, labels=labels)
    write_bytes(
        output.resolve() if replaces else output,
        answer.raw,
        force=replaces or force,
        before=(lambda _: _unchanged(ours, stood)) if replaces else None,
    )
    return answer


def _unchanged(ours: Path, stood: bytes) -> None:
    if content(ours) != stood:
        raise CannotWrite(f"{ours.as_posix()} was changed by somebody else meanwhile; run it again")


def merge(
    base: Path,
    ours: Path,
    theirs: Path,
    today: date,
    *,
    path: Path,
    marker_size: int = 7,
    labels: tuple[str, str] = ("ours", "theirs"),
) -> Merging:
    """Merge three files; give the text and what is to be told of it, and write nothing.

    Every edit of either side is in the text: as such, or between markers. What cannot be read, or changed by place,
    is merged by line.

    Raises
    ------
    CannotRead, GitRefuses
        A file cannot be opened, or cannot be merged even by line.
    """
    raw = [content(file) for file in (base, ours, theirs)]
    documents = [read(text, path.as_posix(), grammar().as_written) for text in raw]
    by_line = Lines(base, ours, theirs, marker_size, labels)
    if not raw[0].strip():
        documents[0] = read(b"{}", path.as_posix(), grammar().as_written)  # both sides made the file
    if because := _unreadable(documents):
        text, conflicts = by_line.merged()
        told = ["lines that both sides changed stand between markers"] if conflicts else []
        if not told and _no_plan(documents[1], "ours") is None:
            lost = _no_plan(read(text, path.as_posix(), grammar().as_written), "the merged file")
            told = [f"ours can be read, {lost}"] if lost else []
        return Merging(path.as_posix(), text, tuple(told), by_line=because)
    data = (documents[0].data, documents[1].data, documents[2].data)
    sides = _Sides(documents, path, today)
    merged = merge_data(*data)
    try:
        answer = sides.answer(merged, by_line)
        if broken := sides.made_together(merged, answer):
            answer = sides.answer(_apart(data, merged, sides.named_by(broken)), by_line, broken)
    except CannotWrite as error:
        return _whole(by_line, path, merged, str(error))
    return answer


def _apart(data: tuple[Any, Any, Any], merged: Merged, named: AbstractSet[Thing]) -> Merged:
    """Merge again with what made a joint finding left to decide: the things it names, else what stands beside them.

    Where nothing near it was changed by one side, all that theirs changed is left to decide.
    """
    laid = tuple(map(laid_out, data))
    for _ in range(_NEAR):
        found = merge_data(*data, named)
        if len(found.conflicts) > len(merged.conflicts):
            return found
        named = with_neighbours(named, *laid)
    return merge_data(*data, {*things(laid[0]), *things(laid[1]), *things(laid[2])})


class Lines:
    """The line merge of three files, made when first asked for."""

    def __init__(
        self, base: Path, ours: Path, theirs: Path, marker_size: int, labels: tuple[str, str] = ("ours", "theirs")
    ) -> None:
        self.size, self.labels = marker_size, labels
        self._files = (ours, base, theirs)
        self._made: tuple[bytes, int] | None = None

    def merged(self) -> tuple[bytes, int]:
        """Give the text, and how many conflicts are in it."""
        if self._made is None:
            self._made = line_merge(*self._files, self.size, self.labels)
        return self._made

    def whole(self) -> bytes:
        """Give ours and theirs whole between markers."""
        ours, _, theirs = (content(file) for file in self._files)
        ended = [text if text.endswith(b"\n") else text + b"\n" for text in (ours, theirs)]
        signs = [sign * self.size for sign in (b"<", b"=", b">")]
        here, there = (f" {label}\n".encode() for label in self.labels)
        return b"".join([signs[0], here, ended[0], signs[1], b"\n", ended[1], signs[2], there])


class _Sides:
    """The three files as read, with what is found in them."""

    def __init__(self, documents: list[Document], path: Path, today: date) -> None:
        self.base, self.ours, self.theirs = documents
        self._path = path
        self._today = today
        self._loader = Loader()

    def answer(self, merged: Merged, by_line: Lines, broken: Iterable[Finding] = ()) -> Merging:
        """Write what was merged into the text of ours; places in dispute between markers.

        Raises
        ------
        CannotWrite
            A place cannot be changed in the text alone.
        """
        text = None if merged.conflicts else self._of_lines(merged, by_line)
        if text is None:
            text = self._of_places(merged)
        file = self._path.as_posix()
        found = self._findings(read(text.encode(), file, grammar().as_written))
        conflicts = [dispute(c.path, c.base, c.ours, c.theirs) for c in merged.conflicts]
        conflicts += [f"together they make {self._how(f)}, {f.severity} {f.check}: {f.message}" for f in broken]
        shown = self._with_markers(text, merged, by_line) if merged.conflicts else text
        return Merging(
            file,
            shown.encode(),
            tuple(conflicts),
            introduced=tuple(f for f in found if not _held(f, self._of_ours)),
            left_behind=tuple(self._left_behind(shown)),
        )

    @cached_property
    def _of_ours(self) -> Told:
        return {_told(found): found for found in self._findings(self.ours)}

    @cached_property
    def _of_theirs(self) -> Told:
        return {_told(found): found for found in self._findings(self.theirs)}

    def made_together(self, merged: Merged, answer: Merging) -> list[Finding]:
        """Findings that neither side has, or not so bad, in what was merged: with ours chosen, and with theirs.

        Whatever else is in conflict does not hide them.
        """
        found = {_told(f): f for f in answer.introduced}
        if merged.conflicts:
            found.update({_told(f): f for f in self._findings(self._with_theirs(merged)) if _told(f) not in found})
        new = (f for f in found.values() if f.severity != "note")
        return [f for f in new if not _held(f, self._of_ours) and not _held(f, self._of_theirs)]

    def _with_theirs(self, merged: Merged) -> Document:
        """What was merged with every conflict decided for theirs, as data without places."""
        data = as_data(merged.theirs)
        return structs.replace(self.theirs, data=data, places=Places(data))

    def _how(self, found: Finding) -> str:
        both = [side for side in (self._of_ours, self._of_theirs) if _told(found) in side]
        return "worse what stands" if both else "what neither side has"

    def named_by(self, findings: Iterable[Finding]) -> set[Thing]:
        """Give the things that findings are about, those that stand there by name, and who acts on groups of them."""
        held = [things(laid_out(side.data)) for side in (self.ours, self.theirs)]
        found: set[Thing] = set()
        for finding in findings:
            subjects = (f"/{subject}" for subject in finding.subjects)
            for at in (f"/{finding.about}", finding.at, *(related.at for related in finding.related), *subjects):
                path = tuple(split(at)) if at else ()
                found.update(thing for n in (2, 3) if (thing := grammar().thing_at(path[:n])))
                value = next((v for side in (self.ours, self.theirs) if (v := _value(side.data, path))), None)
                found.update(thing for side in held for thing in side if thing[1] == value)
        for side in (self.ours, self.theirs):
            links = side.data.get("links")
            for sensor, groups in links.items() if isinstance(links, dict) else ():
                if isinstance(groups, list) and any(("groups", group) in found for group in groups):
                    found.add(("sensors", sensor))
        return found

    def _of_lines(self, merged: Merged, by_line: Lines) -> str | None:
        """Take the line merge where it says the same: it has the comments of both sides."""
        try:
            raw, conflicts = by_line.merged()
        except GitRefuses:  # no git, no line merge: the places alone will do
            return None
        document = read(raw, self.ours.file, grammar().as_written)
        if conflicts or document.data is None or any(f.check == "duplicate-key" for f in document.faults):
            return None
        return raw.decode() if facts(document.data) == facts(merged.ours) else None

    def _of_places(self, merged: Merged) -> str:
        base, ours, theirs = (_comments(side) for side in (self.base, self.ours, self.theirs))
        text, _ = rewritten(
            self.ours,
            merged.ours,
            as_text=grammar().as_written,
            quoted=grammar().quoted,
            donor=self.theirs,
            gone=base - theirs,
            known=base | ours,
            identity=_identity,
        )
        return text

    def _with_markers(self, text: str, merged: Merged, by_line: Lines) -> str:
        document = read(text.encode(), self.ours.file, grammar().as_written)
        _, edits = rewritten(
            document,
            merged.theirs,
            as_text=grammar().as_written,
            quoted=grammar().quoted,
            donor=self.theirs,
            known=_comments(document),
            identity=_identity,
        )
        bare = text.removeprefix("\ufeff")
        return text[: len(text) - len(bare)] + marked(bare, edits, by_line.size, by_line.labels)

    def _findings(self, document: Document) -> list[Finding]:
        """Find what is wrong with a document and not accepted."""
        if str(document.data.get("format")).startswith("zonecfg-catalogue/"):
            return list(catalogue_of(document).findings)
        checked = check_state(self._loader.state_of(document, self._path), self._today)
        return [found for found in checked.findings if found.accepted is None]

    def _left_behind(self, text: str) -> list[str]:
        """Comments that a side has or made, and that the other did not take away, but are not in the merged text."""
        base, ours, theirs = (_said(side) for side in (self.base, self.ours, self.theirs))
        wanted = [*(("ours", said) for said in ours), *(("theirs", said) for said in theirs)]
        taken = {"ours": base.keys() - theirs.keys(), "theirs": base.keys()}
        return [f"{side}: {said}" for side, said in wanted if said not in taken[side] and said not in text]


def _unreadable(documents: Iterable[Document]) -> str | None:
    """Why files cannot be merged by what they say."""
    sides = zip(("base", "ours", "theirs"), documents, strict=True)
    return next((because for side, document in sides if (because := _no_plan(document, side))), None)


def _no_plan(document: Document, name: str) -> str | None:
    """Why a file is no plan that can be relied on."""
    fault = next((fault for fault in document.faults if fault.severity == "error"), None)
    if fault is not None:
        return f"{name} cannot be read, line {fault.line or 1}: {fault.message}"
    if not isinstance(document.data, dict):
        return f"{name} is no plan"
    if name != "base" and not str(document.data.get("format")).startswith(("zonecfg-site/", "zonecfg-catalogue/")):
        return f"{name} is no site file or catalogue"
    return None


def _whole(by_line: Lines, path: Path, merged: Merged, because: str) -> Merging:
    """Merge by line what cannot be changed by place; where that says something else, all is left to decide."""
    text, conflicts = by_line.merged()
    words = [dispute(c.path, c.base, c.ours, c.theirs) for c in merged.conflicts]
    if not conflicts:
        document = read(text, path.as_posix(), grammar().as_written)
        if words or document.data is None or facts(document.data) != facts(merged.ours):
            text, conflicts = by_line.whole(), 1
    if conflicts and not words:
        words = ["lines that both sides changed stand between markers"]
    return Merging(path.as_posix(), text, tuple(words), by_line=because)


def _value(data: Any, path: tuple[str, ...]) -> Any:
    for step in path:
        if isinstance(data, dict):
            data = data.get(step)
        elif isinstance(data, list) and step.isdigit() and int(step) < len(data):
            data = data[int(step)]
        else:
            return None
    return data if isinstance(data, str) else None


def _identity(item: Any) -> Any:
    """An acceptance is known by what it accepts, an id by itself."""
    return (str(item.get("check")), str(item.get("at"))) if isinstance(item, dict) else repr(item)


def _told(found: Finding) -> tuple[str, str]:
    """What makes a finding the same on both sides; in a list, whose items move, what it says but for its lines."""
    return found.check, _LINES.sub("", found.message) if _in_list(found) else found.about


def _in_list(found: Finding) -> bool:
    return any(step.isdigit() for step in split(found.at))


def _held(found: Finding, side: Told) -> bool:
    """Whether a side has a finding already, and no better."""
    before = side.get(_told(found))
    return before is not None and (_in_list(found) or grown(before, found, {}) is None)


def _comments(document: Document) -> frozenset[str]:
    """Lines that hold nothing but a comment."""
    lines = (line.strip() for line in document.places.text.decode("utf-8-sig").splitlines())
    return frozenset(line for line in lines if line.startswith("#"))


def _said(document: Document) -> dict[str, None]:
    """Comments, in the order of the text."""
    lines = document.places.text.decode("utf-8-sig").splitlines()
    return {match[1]: None for line in lines if (match := _COMMENT.search(line))}
