"""A site file and its catalogues to a Site, with every fault of reading as a finding."""

from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct

from zonecfg import schema
from zonecfg.checks.cures import without_judgement
from zonecfg.checks.registry import entries
from zonecfg.checks.runner import placed
from zonecfg.document.catalogue import OutsideRepository, locate
from zonecfg.document.limits import MAX_BYTES
from zonecfg.document.places import Places
from zonecfg.document.reader import Document, read
from zonecfg.errors import CannotRead
from zonecfg.model.build import broken_references, build, reused_ids
from zonecfg.model.grammar import Node, grammar
from zonecfg.model.site import Site
from zonecfg.results.finding import Finding, Problem, Related
from zonecfg.results.nearest import did_you_mean, seek_anew
from zonecfg.results.pointer import join
from zonecfg.rules.reader import known as known_rules
from zonecfg.workflow.paths import PlanFile, shown_path
from zonecfg.workflow.regular import regular


class Catalogue(Struct, frozen=True):
    """A catalogue as read: its types, and its own findings."""

    document: Document
    types: Mapping[str, Mapping[str, Mapping[str, Any]]]
    findings: tuple[Finding, ...]
    unknown: frozenset[str] = frozenset()


class State(Struct, frozen=True):
    """A site file as read. ``site`` is None where the file could not be read at all."""

    file: str
    document: Document
    site: Site | None
    findings: tuple[Finding, ...]
    catalogues: tuple[Catalogue, ...] = ()
    path: Path = Path()
    """Where its catalogues are looked for."""

    @property
    def places(self) -> dict[str, Places]:
        """Places of every file that took part, by name."""
        return {d.file: d.places for d in (self.document, *(c.document for c in self.catalogues))}


class Loader:
    """Reads site files; a catalogue that several of them share is read once.

    Parameters
    ----------
    base
        What names are relative to where the current folder will not do.
    current
        The current folder of whoever asks, where the work is done elsewhere.
    """

    def __init__(self, base: Path | None = None, current: Path | None = None) -> None:
        self._base, self._current = base or Path(), current
        self._catalogues: dict[Path, Catalogue] = {}

    def state(self, found: PlanFile) -> State:
        """Read one site file with its catalogues.

        Raises
        ------
        CannotRead
            The file cannot be opened.
        """
        document = read(content(found.path, found.shown), found.shown, grammar().as_written)
        return self.state_of(document, found.path)

    def state_of(self, document: Document, path: Path) -> State:
        """Make a state of a document that was read already; ``path`` is where its catalogues are looked for."""
        seek_anew()
        findings = list(document.faults)
        if document.data is None:
            return State(document.file, document, None, tuple(findings))
        faults = schema.faults(document.data, "site", may_hold_own_keys=document.may_hold_own_keys)
        data = schema.pruned(document.data, faults)
        if not isinstance(data, dict):
            findings.extend(_shaped(fault, document) for fault in faults)
            return State(document.file, document, None, tuple(findings))
        catalogues, problems = self._of_site(data, path, document)
        findings.extend(problems)
        all_types = not problems and all(c.document.data is not None for c in catalogues)
        types, doubles = _merged_types(data, document, catalogues)
        findings.extend(doubles)
        faults = [fault for fault in faults if not _said_by_type(fault, data, types)]
        findings.extend(_shaped(fault, document) for fault in faults)
        site = build(data, types, _lost(faults).union(*(catalogue.unknown for catalogue in catalogues)))
        for check, problem in _reading_problems(site, data, all_types=all_types):
            findings.append(placed(entries()[check].check, problem, document.file, document.places))
        if data.get("house"):
            from zonecfg.workflow.house import house_findings  # noqa: PLC0415  (few plans have rules of their own)

            findings.extend(house_findings(document, path))
        return State(document.file, document, site, tuple(findings), tuple(catalogues), path)

    def catalogue(self, path: Path) -> Catalogue:
        """Read a catalogue file, once."""
        real = path.resolve()
        if real not in self._catalogues:
            name = shown_path(path, self._base, self._current)
            self._catalogues[real] = catalogue_of(read(content(path, name), name, grammar().as_written))
        return self._catalogues[real]

    def _of_site(
        self, data: Mapping[str, Any], path: Path, document: Document
    ) -> tuple[list[Catalogue], list[Finding]]:
        catalogues: dict[str, Catalogue] = {}
        findings = []
        for index, written in enumerate(data.get("catalogue") or ()):
            at = join("catalogue", index)
            check, message = "unknown-reference", ""
            try:
                target = locate(path, written)
                if not target.is_file():
                    beside = [p.name for p in path.parent.glob("*.y*ml") if p != path]
                    message = f"there is no file {written}{did_you_mean(written, beside)}"
                else:
                    catalogue = self.catalogue(target)
                    catalogues.setdefault(catalogue.document.file, catalogue)
            except OutsideRepository as error:
                check, message = "catalogue-outside-repository", str(error)
            except (CannotRead, OSError, ValueError) as error:
                message = f"{written} cannot be opened: {error}"
            if message:
                problem = Problem(at[1:], at, message)
                findings.append(placed(entries()[check].check, problem, document.file, document.places))
        return list(catalogues.values()), findings


def content(path: Path, name: str | None = None) -> bytes:
    """Read a file's bytes, one more than a plan may have at most; an error calls it by ``name`` where one is given.

    Raises
    ------
    CannotRead
        It cannot be opened.
    """
    return regular(path, MAX_BYTES + 1, name)


def catalogue_of(document: Document) -> Catalogue:
    """Make a catalogue of a document that was read."""
    findings = list(document.faults)
    data = document.data
    if data is None:
        return Catalogue(document, {}, tuple(findings))
    faults = schema.faults(data, "catalogue", may_hold_own_keys=document.may_hold_own_keys)
    findings.extend(_shaped(fault, document) for fault in faults)
    data = schema.pruned(data, faults)
    types = data.get("types") if isinstance(data, dict) else None
    return Catalogue(document, _by_section(types or {}), tuple(findings), _lost(faults))


def _by_section(types: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    return {section: types[section] for section in grammar().typed if section in types}


def _merged_types(
    data: Mapping[str, Any], document: Document, catalogues: list[Catalogue]
) -> tuple[dict[str, dict[str, Any]], list[Finding]]:
    """Put all types together; the first definition counts, a second one is a finding in its own file."""
    merged: dict[str, dict[str, Any]] = {}
    home: dict[tuple[str, str], Document] = {}
    findings = []
    own = (document, _by_section(data.get("types") or {}))
    # The site's own come last, so that a double is told where the site's author can mend it.
    for source, types in (*((c.document, c.types) for c in catalogues), own):
        for section, things in types.items():
            for key, fields in things.items():
                first = home.setdefault((section, key), source)
                if first is source:
                    merged.setdefault(section, {})[key] = fields
                    continue
                at = join("types", section, key)
                place, other = source.places.of(at), first.places.of(at)
                findings.append(
                    Finding(
                        check="type-defined-twice",
                        severity="error",
                        about=at[1:],
                        file=source.file,
                        at=at,
                        line=place.line if place else None,
                        column=place.column if place else None,
                        end_column=place.end_column if place else None,
                        message=f"{key} is defined in {first.file} already (line {other.line if other else '?'})",
                        related=(
                            Related(first.file, at, other.line if other else None, other.column if other else None),
                        ),
                    )
                )
    return merged, findings


def _said_by_type(fault: schema.SchemaFault, data: Mapping[str, Any], types: Mapping[str, Any]) -> bool:
    """Whether a field that a thing lacks comes from its type."""
    if fault.missing is None or len(fault.path) != 2 or fault.path[0] not in grammar().typed:
        return False
    section, key = str(fault.path[0]), str(fault.path[1])
    fields = data.get(section, {}).get(key, {})
    return fault.missing in types.get(section, {}).get(fields.get("type"), {})


def _lost(faults: list[schema.SchemaFault]) -> frozenset[str]:
    """What faults make unknown: a section, a thing, or the field of a thing."""
    return frozenset("/".join(_narrowed(fault.path)) for fault in faults if fault.missing is None and fault.path)


def _narrowed(path: tuple[str | int, ...]) -> tuple[str, ...]:
    """Give the field of a thing that a path is of or in, or the thing, or the section."""
    steps: list[str] = []
    node: Node | None = grammar().root
    for step in path:
        if node is None or node.kind in ("set", "value"):
            break
        thing = node.kind in ("map", "list")
        node = node.below(step)
        steps.append(str(step))
        if thing and node is not None and node.kind == "part":
            return (*steps, *map(str, path[len(steps) :][:1]))
    if len(steps) > 1 and node is not None and node.kind == "map" and node.said.keyed_by:
        steps.pop()  # a part of the evidence that cannot be read leaves none of it known
    return tuple(steps)


def shape_findings(document: Document, kind: str) -> list[Finding]:
    """Give what a ``site`` or ``catalogue`` file says wrongly, for itself; what it lacks a catalogue may say."""
    faults = schema.faults(document.data, kind, may_hold_own_keys=document.may_hold_own_keys)
    return [_shaped(fault, document) for fault in faults if fault.missing is None]


def _shaped(fault: schema.SchemaFault, document: Document) -> Finding:
    place = (document.places.of_key(fault.at) if fault.on_key and fault.at else None) or document.places.of(fault.at)
    if fault.missing is not None:
        place = document.places.of_key(fault.at) if fault.at else document.places.of(fault.at)
    about = join(*fault.path, fault.missing) if fault.missing else fault.at
    check = entries()[fault.check].check
    return Finding(
        check=check.id,
        severity=check.severity,
        about=about[1:] or document.file,
        file=document.file,
        at=fault.at,
        line=place.line if place else 1,
        column=place.column if place else 1,
        end_column=place.end_column if place else None,
        message=fault.message,
        subjects=(about[1:],) if about else (),
        cures=without_judgement(fault.cures),
    )


def _reading_problems(site: Site, data: Mapping[str, Any], *, all_types: bool) -> list[tuple[str, Problem]]:
    outside: dict[str, Collection[str]] = {"checks": entries()}
    if site.info.rules:
        outside |= {f"rules.{kind}": known_rules(kind) for kind in ("falls", "ventilation", "escape")}
    return [
        *(("id-reused", problem) for problem in reused_ids(data)),
        *(("unknown-reference", problem) for problem in broken_references(site, outside=outside, all_types=all_types)),
    ]
