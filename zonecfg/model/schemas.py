"""The JSON Schemas, made from the model: nothing in ``schemas/`` is written by hand."""

import json
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any, get_args

import msgspec

from zonecfg.model.evidence import Signature
from zonecfg.model.fields import ID_PATTERN
from zonecfg.model.grammar import Node, grammar
from zonecfg.model.plan import CATALOGUE_FORMAT, SITE_FORMAT
from zonecfg.results.change import Changes
from zonecfg.results.cured import Cured
from zonecfg.results.drafted import DraftAnswer
from zonecfg.results.figure import SiteFigures
from zonecfg.results.finding import Findings
from zonecfg.results.history import History
from zonecfg.results.identified import Identified
from zonecfg.results.matched import Matched
from zonecfg.results.portfolio import Portfolio
from zonecfg.results.recorded import Recorded
from zonecfg.results.rehearsal import Rehearsal
from zonecfg.results.review import ReviewPage
from zonecfg.results.way import Ways
from zonecfg.results.written import Written

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_OWN_KEYS = {"^x-": {"description": "The user's own data: kept, never read. No secrets."}}


def site_schema() -> dict[str, Any]:
    """Schema of a site file, in any of its states."""
    plan = grammar()
    defs = _part_definitions()
    sections = {name: _section(node) for name, node in plan.root.keys.items()}
    required = tuple(name for name, node in plan.root.keys.items() if node.said.required)
    # A saved copy knows serials and settings only: its things need no type.
    saved = {**sections, **{name: _by_id(f"Copied{_name(name)}", plan.root.keys[name].said.doc) for name in plan.typed}}
    for name in plan.typed:
        defs[f"Copied{_name(name)}"] = {key: value for key, value in defs[_name(name)].items() if key != "required"}
    defs["Site"] = _closed(sections, required)
    defs["SavedCopy"] = _closed(saved, (*required, "saved"))
    return {
        "$schema": DIALECT,
        "title": "zonecfg site file",
        "description": plan.root.said.doc,
        "type": "object",
        "if": {"type": "object", "properties": {"state": {"const": "saved"}}, "required": ["state"]},
        "then": {"$ref": "#/$defs/SavedCopy"},
        "else": {"$ref": "#/$defs/Site"},
        "$defs": dict(sorted(defs.items())),
    }


def catalogue_schema() -> dict[str, Any]:
    """Schema of a catalogue file."""
    plan = grammar()
    used = {f"{_name(name)}Type" for name in plan.typed} | {"Limits", "BusLimits", "Upkeep"}
    return {
        "$schema": DIALECT,
        "title": "zonecfg catalogue",
        "description": "Types of openings and equipment that sites share.",
        **_closed(
            {
                "format": {"const": CATALOGUE_FORMAT, "description": plan.root.keys["format"].said.doc},
                "types": _section(plan.root.keys["types"]),
            },
            ("format", "types"),
        ),
        "$defs": {name: body for name, body in sorted(_part_definitions().items()) if name in used},
    }


def _name(section: str) -> str:
    """Give the name that the parts of a section have."""
    return grammar().part_of(section).__name__


def _section(node: Node) -> dict[str, Any]:
    doc = node.said.doc
    if node.name == "format":
        return {"const": SITE_FORMAT, "description": doc}
    if node.name == "state":
        return {"enum": list(get_args(node.of)), "description": doc}
    if node.name == "types":
        types = {name: _by_id(f"{_name(name)}Type", kind.said.doc) for name, kind in node.keys.items()}
        return {"description": doc, **_closed(types, ())}
    if node.kind == "part" and node.part is not None:
        return {"$ref": f"#/$defs/{node.part.__name__}", "description": doc}
    if node.each is None:
        raise TypeError(f"a section holds parts or ids; {node.name} holds neither")
    if node.kind == "set":
        return _list_of(doc, {"pattern": ID_PATTERN} if node.said.refers else {"minLength": 1})
    if node.kind == "list" and node.each.part is not None:
        return {"type": "array", "items": {"$ref": f"#/$defs/{node.each.part.__name__}"}, "description": doc}
    if node.each.part is not None:
        return _by_id(node.each.part.__name__, doc)
    return _id_map(_list_of(node.each.said.doc, {"pattern": ID_PATTERN}), doc)


def _of_result(kind: type, title: str) -> dict[str, Any]:
    (root,), defs = msgspec.json.schema_components([kind], ref_template="#/$defs/{name}")
    return {"$schema": DIALECT, "title": title, **root, "$defs": {name: _tidy(body) for name, body in defs.items()}}


def _tidy(body: dict[str, Any]) -> dict[str, Any]:
    """Say of a result's definition which keys are always there: all but those that may be left out, not null.

    Of its description the first line stays.
    """
    always = [name for name, field in body["properties"].items() if name in body["required"] or "default" in field]
    properties = {
        name: {key: value for key, value in field.items() if key != "default"}
        for name, field in body["properties"].items()
    }
    doc = (body.get("description") or "").split("\n")[0].replace("`", "")
    return {**body, "description": doc, "properties": properties, "required": always}


_ANSWERS: dict[str, type] = {
    "findings": Findings,
    "changes": Changes,
    "figures": SiteFigures,
    "review": ReviewPage,
    "portfolio": Portfolio,
    "rollback": Ways,
    "rehearsal": Rehearsal,
    "match": Matched,
    "identify": Identified,
    "record": Recorded,
    "written": Written,
    "cured": Cured,
    "history": History,
    "drafted": DraftAnswer,
}

SCHEMAS: dict[str, Callable[[], dict[str, Any]]] = {
    "site": site_schema,
    "catalogue": catalogue_schema,
    **{name: partial(_of_result, kind, f"zonecfg {name}") for name, kind in _ANSWERS.items()},
}
"""Every schema by name: of the two files people write, and of what commands print as JSON."""


def _part_definitions() -> dict[str, Any]:
    plan = grammar()
    parts = plan.parts
    _, raw = msgspec.json.schema_components(list(parts), ref_template="#/$defs/{name}")
    nodes = {part.__name__: node for part, node in parts.items()}
    defs: dict[str, Any] = {}
    for name, body in raw.items():
        node = nodes[name]
        fields = {key: _field(value) for key, value in body["properties"].items() if key != "id"}
        for key, field in fields.items():
            if "$ref" in field and "description" not in field:  # msgspec drops what is said of a part within a part
                fields[key] = {**field, "description": node.keys[key].said.doc}
        for key in (key for key in fields if node.keys[key].said.signed):
            fields[key] = _signed(fields[key], node.keys[key].said.signed or "")
        defs[name] = {
            "title": name,
            "description": (body.get("description") or "").split("\n")[0],
            **_closed(fields, tuple(key for key, inner in node.keys.items() if inner.said.required)),
        }
    for name in plan.typed:
        part = _name(name)
        properties = {key: value for key, value in defs[part]["properties"].items() if key != "type"}
        defs[f"{part}Type"] = {
            "title": f"{part} type",
            "description": plan.root.keys["types"].keys[name].each.said.doc,
            **_closed(properties, ()),
        }
    return defs


def _signed(plain: dict[str, Any], key: str) -> dict[str, Any]:
    """Let a value stand by itself, or as a record of its own with day, name and what it was seen with."""
    bare = {name: said for name, said in plain.items() if name not in {"description", "examples"}}
    sign = {name: _field(body) for name, body in _signature()["properties"].items()}
    said: dict[str, Any] = {name: plain[name] for name in ("description", "examples") if name in plain}
    long: dict[str, Any] = {"if": {"type": "object"}, "then": _closed({key: plain, **sign}, (key,)), "else": bare}
    return said | long


def _signature() -> dict[str, Any]:
    _, raw = msgspec.json.schema_components([Signature], ref_template="#/$defs/{name}")
    signature: dict[str, Any] = raw["Signature"]
    return signature


def _field(body: dict[str, Any]) -> dict[str, Any]:
    """Strip what only the Python side needs: a field is left out where it is not known, never null."""
    body = {key: value for key, value in body.items() if key != "default"}
    arms = [arm for arm in body.pop("anyOf", []) if arm != {"type": "null"}]
    merged = {**arms[0], **body} if arms else body
    if "additionalProperties" in merged:
        said = {"examples": merged["examples"]} if "examples" in merged else {}
        return {**_id_map(merged["additionalProperties"], merged.get("description", "By id.")), **said}
    if len(merged) > 1 and "$ref" in merged:
        merged = {"$ref": merged["$ref"], **{k: v for k, v in merged.items() if k in {"description", "examples"}}}
    return merged


def _closed(properties: dict[str, Any], required: tuple[str, ...]) -> dict[str, Any]:
    closed: dict[str, Any] = {
        "type": "object",
        "properties": properties,
        "patternProperties": _OWN_KEYS,
        "additionalProperties": False,
    }
    return {**closed, "required": list(required)} if required else closed


def _id_map(item: dict[str, Any], doc: str) -> dict[str, Any]:
    return {
        "type": "object",
        "description": doc,
        "patternProperties": {ID_PATTERN: item},
        "additionalProperties": False,
    }


def _by_id(name: str, doc: str) -> dict[str, Any]:
    return _id_map({"$ref": f"#/$defs/{name}"}, doc)


def _list_of(doc: str, item: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "description": doc, "items": {"type": "string", **item}}


def write_all(folder: Path) -> None:
    """Write every schema into a folder."""
    for name, schema in SCHEMAS.items():
        text = json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"
        (folder / f"{name}.schema.json").write_text(text, "utf-8")


if __name__ == "__main__":
    write_all(Path(__file__).parents[2] / "schemas")
