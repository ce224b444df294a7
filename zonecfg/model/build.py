"""Clean data to a Site, and the references that lead nowhere."""

from collections.abc import Collection, Iterator, Mapping
from operator import attrgetter
from typing import Any

import msgspec

from zonecfg.model.building import SiteInfo
from zonecfg.model.evidence import Acceptance, Record, Saved, plainly
from zonecfg.model.fields import NODES
from zonecfg.model.grammar import Grammar, Reference, grammar
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem
from zonecfg.results.nearest import did_you_mean, nearest
from zonecfg.results.pointer import join

Types = Mapping[str, Mapping[str, Mapping[str, Any]]]


def build(data: Mapping[str, Any], types: Types, unknown: frozenset[str] = frozenset()) -> Site:
    """Make a Site of the data of one site file.

    Parameters
    ----------
    data
        The file's data, with everything taken out that the schema refused.
    types
        All types: section, id, fields; from catalogues and the file itself.
    unknown
        Places taken out: ``section``, ``section/id`` or ``section/id/field``; below ``types`` and ``record`` one step
        more. What a thing would have from a type that could not be read, or is nowhere, becomes unknown too.
    """
    plan = grammar()
    things = {
        name: _things(
            name, plan.part_of(name), data.get(name) or {}, types.get(name, {}) if name in plan.typed else {}, unknown
        )
        for name in plan.things
    }
    return Site(
        state=data.get("state"),
        info=_converted(data.get("site") or {}, SiteInfo),
        links={sensor: tuple(groups) for sensor, groups in (data.get("links") or {}).items()},
        terminators=tuple(data.get("terminators") or ()),
        record=_converted(plainly(data.get("record") or {}), Record),
        saved=None if data.get("saved") is None else _converted(data["saved"], Saved),
        accepted=tuple(_converted(data.get("accepted") or [], list[Acceptance])),
        types=types,
        own=data,
        unknown=unknown.union(_untold_by_types(data, types, unknown)),
        **things,
    )


def _untold_by_types(data: Mapping[str, Any], types: Types, unknown: frozenset[str]) -> Iterator[str]:
    """Give the fields that things do not say themselves and whose type cannot be asked."""
    plan = grammar()
    for section in plan.typed:
        known = types.get(section, {})
        hurt = {place.split("/")[2] for place in unknown if place.startswith(f"types/{section}/")}
        settled = known.keys() - hurt
        fields: list[str] = []
        for key, own in (data.get(section) or {}).items():
            kind = own.get("type") if isinstance(own, dict) else None
            if kind in settled:
                continue
            if kind is None and f"{section}/{key}/type" not in unknown:
                continue
            gone = kind not in known or f"types/{section}/{kind}" in unknown
            fields = fields or list(plan.things[section].keys)
            for field in fields:
                if field not in own and (gone or f"types/{section}/{kind}/{field}" in unknown):
                    yield f"{section}/{key}/{field}"


def _converted(value: Any, kind: Any) -> Any:
    """Make typed parts of clean data; a whole number may be written 8.0, which the schema takes for what it is."""
    try:
        return msgspec.convert(value, kind)
    except msgspec.ValidationError:
        return msgspec.convert(_whole(value), kind)


def _whole(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _whole(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_whole(item) for item in value]
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _things(
    section: str,
    part: type,
    own: Mapping[str, Any],
    types: Mapping[str, Mapping[str, Any]],
    unknown: frozenset[str],
) -> dict[str, Any]:
    nothing: Mapping[str, Any] = {}
    merged = {
        key: {**types.get(fields["type"], nothing), **fields, "id": key} if "type" in fields else {**fields, "id": key}
        for key, fields in own.items()
    }
    for place in unknown:  # what a thing says itself and wrongly is not known, whatever its type says
        first, key, field = (*place.split("/"), "", "")[:3]
        if first == section and key in merged and field != "id" and field not in own[key]:
            merged[key].pop(field, None)
    return _converted(merged, dict[str, part])  # type: ignore[valid-type,no-any-return]


def reused_ids(data: Mapping[str, Any]) -> Iterator[Problem]:
    """Find ids that stand in two sections whose things cables can name."""
    first: dict[str, str] = {}
    for section in grammar().nodes:
        for key in data.get(section) or ():
            if key in first:
                yield Problem(
                    join(section, key)[1:],
                    join(section, key),
                    f"{key} is already one of the {first[key]}; cables could mean either",
                    (join(first[key], key),),
                )
            else:
                first[key] = section


def broken_references(
    site: Site, *, outside: Mapping[str, Collection[str]], all_types: bool = True
) -> Iterator[Problem]:
    """Find names of things that are nowhere on the plan.

    Parameters
    ----------
    site
        The site. Sections that a saved copy does not carry are no broken references.
    outside
        What plans refer to that no plan holds: ids of rule sets by ``rules.falls`` and so on, of ``checks``.
    all_types
        Whether every catalogue could be read; otherwise a type that is nowhere may stand in the one that is missing.
    """
    plan = grammar()
    nodes = [key for section in plan.nodes for key in getattr(site, section)]
    known: dict[str, Collection[str]] = {
        **{name: getattr(site, name) for name in plan.things},
        **{f"types.{name}": site.types.get(name, {}) for name in plan.typed},
        NODES: dict.fromkeys(nodes),
    }
    if site.state == "saved":
        known = {name: ids for name, ids in known.items() if name.split(".")[0] in site.own}
    blind = {name for name in site.unknown if "/" not in name}
    if blind.intersection(plan.nodes):
        blind.add(NODES)
    if not all_types:
        blind.add("types")
    judged = {wanted: ids for wanted, ids in (known | dict(outside)).items() if wanted.split(".")[0] not in blind}
    for reference in plan.references:
        ids = judged.get(reference.to)
        if ids is None or reference.route[0] == "types":  # what a type says is judged with the things of that type
            continue
        for pointer, name in _lost(site, plan, reference, ids):
            cures = _nearest_word(pointer, name, ids)
            yield Problem(pointer[1:], pointer, f"{name} {_none_of(reference.to, plan, name, ids)}", cures=cures)


def _nearest_word(pointer: str, name: str, ids: Collection[str]) -> tuple[Cure, ...]:
    meant = nearest(name, ids)
    if meant is None or meant == name:
        return ()
    return (Cure(f"write {meant}", ({"op": "replace", "path": pointer, "value": meant},)),)


def _none_of(wanted: str, plan: Grammar, name: str, ids: Collection[str]) -> str:
    """Say what a name is not."""
    section, _, kind = wanted.partition(".")
    if section == "rules":
        offer = did_you_mean(name, ids) or f"; known are {', '.join(ids)}"
        return f"is no rule set for {kind}{offer}"
    if section == "checks":
        return f"is no check{did_you_mean(name, ids)}"
    *first, last = plan.nodes
    words = f"types of {kind}" if kind else f"{', '.join(first)} or {last}" if section == NODES else section
    return f"is none of the {words}{did_you_mean(name, ids)}"


def _lost(site: Site, plan: Grammar, reference: Reference, ids: Collection[str]) -> Iterator[tuple[str, str]]:
    """Give every name at a place that leads nowhere, with its pointer."""
    section, *below = reference.route
    if (
        section in plan.things and len(below) == 2 and reference.where != "keys"
    ):  # nearly all of them, and nearly always none
        field = below[1]
        of, things = attrgetter(plan.attribute(section, field)), getattr(site, section).values()
        if reference.where == "value":
            lost = set(map(of, things)).difference(ids, (None,))
            for thing in things if lost else ():
                if of(thing) in lost:
                    yield site.at(section, thing.id, field), of(thing)
            return
        for thing in things:
            names = of(thing) or ()
            if not all(map(ids.__contains__, names)):
                own = site.own[section][thing.id].get(field) is not None
                at = site.at(section, thing.id, field)
                yield from ((f"{at}/{n}" if own else at, name) for n, name in enumerate(names) if name not in ids)
        return
    yield from ((join(*path), name) for path, name in reference.names(site.own) if name not in ids)
