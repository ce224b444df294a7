"""Clean data to a Site, and the references that lead nowhere."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from operator import attrgetter
from typing import Any

import msgspec

from zonecfg.model.building import SiteInfo
from zonecfg.model.evidence import Acceptance, Record, Saved
from zonecfg.model.sections import NODES, THINGS, TYPED
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem
from zonecfg.results.nearest import did_you_mean
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
    things = {
        name: _things(name, section.part, data.get(name) or {}, types.get(name, {}) if name in TYPED else {}, unknown)
        for name, section in THINGS.items()
    }
    return Site(
        state=data.get("state"),
        info=_converted(data.get("site") or {}, SiteInfo),
        links={k: tuple(v) for k, v in (data.get("links") or {}).items() if not k.startswith("x-")},
        terminators=tuple(data.get("terminators") or ()),
        record=_converted(_record(data.get("record") or {}), Record),
        saved=None if data.get("saved") is None else _converted(data["saved"], Saved),
        accepted=tuple(_converted(data.get("accepted") or [], list[Acceptance])),
        types=types,
        own=data,
        unknown=unknown.union(_untold_by_types(data, types, unknown)),
        **things,
    )


def _untold_by_types(data: Mapping[str, Any], types: Types, unknown: frozenset[str]) -> Iterator[str]:
    """Give the fields that things do not say themselves and whose type cannot be asked."""
    for section in TYPED:
        known = types.get(section, {})
        hurt = {place.split("/")[2] for place in unknown if place.startswith(f"types/{section}/")}
        settled = known.keys() - hurt
        fields: list[str] = []
        for key, own in (data.get(section) or {}).items():
            kind = own.get("type") if isinstance(own, dict) else None
            if kind in settled or key.startswith("x-"):
                continue
            if kind is None and f"{section}/{key}/type" not in unknown:
                continue
            gone = kind not in known or f"types/{section}/{kind}" in unknown
            fields = fields or [field.encode_name for field in msgspec.structs.fields(THINGS[section].part)]
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
        if not key.startswith("x-")
    }
    for place in unknown:  # what a thing says itself and wrongly is not known, whatever its type says
        first, key, field = (*place.split("/"), "", "")[:3]
        if first == section and key in merged and field != "id" and field not in own[key]:
            merged[key].pop(field, None)
    return _converted(merged, dict[str, part])  # type: ignore[valid-type,no-any-return]


def _record(record: Mapping[str, Any]) -> dict[str, Any]:
    """Leave out the user's own keys, which stand where ids do."""
    return {
        section: {key: value for key, value in things.items() if not key.startswith("x-")}
        for section, things in record.items()
        if not section.startswith("x-")
    }


def reused_ids(data: Mapping[str, Any]) -> Iterator[Problem]:
    """Find ids that stand in two sections whose things cables can name."""
    first: dict[str, str] = {}
    for section in NODES:
        for key in data.get(section) or ():
            if key.startswith("x-"):
                continue
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
    site: Site, *, rules: Mapping[str, Iterable[str]], checks: Iterable[str], all_types: bool = True
) -> Iterator[Problem]:
    """Find names of things that are nowhere on the plan.

    Parameters
    ----------
    site
        The site. Sections that a saved copy does not carry are no broken references.
    rules
        Known rule sets: ids by kind (``falls``, ``ventilation``, ``escape``).
    checks
        Known check ids, for acceptances.
    all_types
        Whether every catalogue could be read; otherwise a type that is nowhere may stand in the one that is missing.
    """
    nodes = [key for section in NODES for key in getattr(site, section)]
    known: dict[str, Collection[str]] = {
        **{name: getattr(site, name) for name in THINGS},
        **{f"types.{name}": site.types.get(name, {}) for name in TYPED},
        "nodes": dict.fromkeys(nodes),
    }
    if site.state == "saved":
        known = {name: ids for name, ids in known.items() if name.split(".")[0] in site.own}
    blind = {name for name in site.unknown if "/" not in name}
    if blind.intersection(NODES):
        blind.add("nodes")
    if not all_types:
        blind.add("types")
    judged = {wanted: ids for wanted, ids in known.items() if wanted.split(".")[0] not in blind}
    for wanted, pointer, name in _broken(site, judged):
        offer = did_you_mean(name, judged[wanted])
        yield Problem(pointer[1:], pointer, f"{name} is none of the {_WORDS[wanted]}{offer}")
    named = site.info.rules
    for kind, ids in rules.items():
        rule_set = getattr(named, kind) if named else None
        if rule_set is not None and rule_set not in ids:
            pointer = f"/site/rules/{kind}"
            offer = did_you_mean(rule_set, ids) or f"; known are {', '.join(ids)}"
            yield Problem(pointer[1:], pointer, f"{rule_set} is no rule set for {kind}{offer}")
    for index, acceptance in enumerate(site.accepted):
        if acceptance.check is not None and acceptance.check not in checks:
            pointer = f"/accepted/{index}/check"
            yield Problem(
                pointer[1:], pointer, f"{acceptance.check} is no check{did_you_mean(acceptance.check, checks)}"
            )


_WORDS = {
    **{name: name for name in THINGS},
    **{f"types.{name}": f"types of {name}" for name in TYPED},
    "nodes": "controllers, supplies, actuators, sensors or junctions",
}
# (section, field, section referred to): the single-valued references of things.
_FIELDS = (
    ("openings", "type", "types.openings"),
    ("openings", "room", "rooms"),
    ("controllers", "type", "types.controllers"),
    ("controllers", "room", "rooms"),
    ("supplies", "type", "types.supplies"),
    ("supplies", "room", "rooms"),
    ("actuators", "type", "types.actuators"),
    ("actuators", "opening", "openings"),
    ("actuators", "controller", "controllers"),
    ("groups", "controller", "controllers"),
    ("sensors", "type", "types.sensors"),
    ("sensors", "controller", "controllers"),
    ("sensors", "room", "rooms"),
    ("junctions", "room", "rooms"),
    ("cables", "type", "types.cables"),
    ("cables", "from", "nodes"),
    ("cables", "to", "nodes"),
)
_RECORDS = (("controllers", "controllers"), ("actuators", "actuators"), ("groups", "groups"), ("sensors", "sensors"),
            ("buses", "controllers"))  # fmt: skip


def _broken(site: Site, known: Mapping[str, Collection[str]]) -> Iterator[tuple[str, str, str]]:
    """Give every reference that leads nowhere: the section referred to, its pointer, the name."""
    for section, field, wanted in _FIELDS:
        if (ids := known.get(wanted)) is None:
            continue
        of, things = attrgetter("from_" if field == "from" else field), getattr(site, section).values()
        lost = set(map(of, things)).difference(ids, (None,))  # all at once: nearly always none
        for thing in things if lost else ():
            if of(thing) in lost:
                yield wanted, site.at(section, thing.id, field), of(thing)
    for section, wanted in (("wet_weather", "groups"), ("strong_wind", "groups"), ("links", "sensors")):
        if (ids := known.get(wanted)) is not None:
            yield from ((wanted, join(section, name), name) for name in getattr(site, section) if name not in ids)
    for section, wanted in _RECORDS:
        if (ids := known.get(wanted)) is not None:
            names = getattr(site.record, section)
            yield from ((wanted, join("record", section, name), name) for name in names if name not in ids)
    for wanted, steps, names in _lists(site):
        if (ids := known.get(wanted)) is not None and not all(map(ids.__contains__, names)):
            for index, name in enumerate(names):
                if name not in ids:
                    yield wanted, join(*steps, index), name


def _lists(site: Site) -> Iterator[tuple[str, tuple[str, ...], Sequence[str]]]:
    """Give every list of ids: the section referred to, where it stands, the names."""
    for group in site.groups.values():
        yield "actuators", ("groups", group.id, "actuators"), group.actuators or ()
    for sensor, groups in site.links.items():
        yield "groups", ("links", sensor), groups
    yield "nodes", ("terminators",), site.terminators
