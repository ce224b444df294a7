"""The JSON Schemas, made from the model: nothing in ``schemas/`` is written by hand."""

import json
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any, get_type_hints

import msgspec

from zonecfg.model.building import SiteInfo
from zonecfg.model.evidence import Acceptance, Record, Saved
from zonecfg.model.fields import ID_PATTERN, Part
from zonecfg.model.sections import CATALOGUE_FORMAT, SITE_FORMAT, STATES, THINGS, TYPED
from zonecfg.results.change import Changes
from zonecfg.results.figure import SiteFigures
from zonecfg.results.finding import Findings
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
    defs = _part_definitions()
    sections = {
        "format": {"const": SITE_FORMAT, "description": "The format of this file."},
        "state": {
            "enum": list(STATES),
            "description": "What the file tells: the plan, what stands on site, or a copy a controller saved.",
        },
        "site": {"$ref": "#/$defs/SiteInfo", "description": "What the whole site has in common."},
        "catalogue": _list_of("Relative paths of catalogue files, inside the repository.", {"minLength": 1}),
        "types": _types(),
        **{name: _by_id(section.part.__name__, section.doc) for name, section in THINGS.items()},
        "links": _id_map(
            _list_of("Groups the sensor acts on, one id a line.", {"pattern": ID_PATTERN}),
            "What each sensor acts on: sensor id to a list of group ids.",
        ),
        "terminators": _list_of("Nodes that carry a bus termination resistor.", {"pattern": ID_PATTERN}),
        "record": {"$ref": "#/$defs/Record", "description": "What was seen and tested on site."},
        "saved": {"$ref": "#/$defs/Saved", "description": "Where a saved copy is from."},
        "accepted": {
            "type": "array",
            "items": {"$ref": "#/$defs/Acceptance"},
            "description": "Findings that people decided to live with.",
        },
    }
    # A saved copy knows serials and settings only: its things need no type.
    saved = {**sections, **{name: _by_id(f"Copied{THINGS[name].part.__name__}", THINGS[name].doc) for name in TYPED}}
    for name in TYPED:
        part = THINGS[name].part.__name__
        defs[f"Copied{part}"] = {key: value for key, value in defs[part].items() if key != "required"}
    defs["Site"] = _closed(sections, ("format", "state", "site"))
    defs["SavedCopy"] = _closed(saved, ("format", "state", "site", "saved"))
    return {
        "$schema": DIALECT,
        "title": "zonecfg site file",
        "description": "One state of one site: its motorised windows, how they are wired, grouped and tested.",
        "type": "object",
        "if": {"type": "object", "properties": {"state": {"const": "saved"}}, "required": ["state"]},
        "then": {"$ref": "#/$defs/SavedCopy"},
        "else": {"$ref": "#/$defs/Site"},
        "$defs": dict(sorted(defs.items())),
    }


def catalogue_schema() -> dict[str, Any]:
    """Schema of a catalogue file."""
    kinds = {f"{THINGS[name].part.__name__}Type" for name in TYPED}
    used = kinds | {"Limits", "BusLimits"}
    return {
        "$schema": DIALECT,
        "title": "zonecfg catalogue",
        "description": "Types of openings and equipment that sites share.",
        **_closed(
            {"format": {"const": CATALOGUE_FORMAT, "description": "The format of this file."}, "types": _types()},
            ("format", "types"),
        ),
        "$defs": {name: body for name, body in sorted(_part_definitions().items()) if name in used},
    }


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
}

SCHEMAS: dict[str, Callable[[], dict[str, Any]]] = {
    "site": site_schema,
    "catalogue": catalogue_schema,
    **{name: partial(_of_result, kind, f"zonecfg {name}") for name, kind in _ANSWERS.items()},
}
"""Every schema by name: of the two files people write, and of what commands print as JSON."""


def _part_definitions() -> dict[str, Any]:
    parts = [*(section.part for section in THINGS.values()), SiteInfo, Record, Saved, Acceptance]
    _, raw = msgspec.json.schema_components(parts, ref_template="#/$defs/{name}")
    classes = {cls.__name__: cls for cls in _all_parts(Part)}
    defs: dict[str, Any] = {}
    for name, body in raw.items():
        infos = field_infos(classes[name])
        fields = {key: _field(value) for key, value in body["properties"].items() if key != "id"}
        for key, field in fields.items():
            if "$ref" in field and "description" not in field:  # msgspec drops what is said of a part within a part
                doc = infos[key]["doc"] if key in infos else raw[field["$ref"].rsplit("/", 1)[-1]]["description"]
                fields[key] = {**field, "description": doc.split("\n")[0]}
        defs[name] = {
            "title": name,
            "description": (body.get("description") or "").split("\n")[0],
            **_closed(fields, required_fields(classes[name])),
        }
    for name in TYPED:
        part = THINGS[name].part.__name__
        properties = {key: value for key, value in defs[part]["properties"].items() if key != "type"}
        defs[f"{part}Type"] = {
            "title": f"{part} type",
            "description": f"Fields that {name} of this type have in common.",
            **_closed(properties, ()),
        }
    return defs


def _all_parts(root: type[Part]) -> list[type[Part]]:
    return [part for child in root.__subclasses__() for part in (child, *_all_parts(child))]


def required_fields(part: type[Part]) -> tuple[str, ...]:
    """Names, as written in a plan, of the fields a thing cannot do without."""
    return tuple(info["name"] for info in field_infos(part).values() if info["required"])


def field_infos(part: type[Part]) -> dict[str, dict[str, Any]]:
    """What the model says of each field of a part: ``name`` as written, ``doc``, ``unit``, ``required``, ``refers``."""
    hints = get_type_hints(part, include_extras=True)
    found: dict[str, dict[str, Any]] = {}
    for field in msgspec.structs.fields(part):
        for arm in getattr(hints[field.name], "__args__", ()):
            for meta in getattr(arm, "__metadata__", ()):
                if isinstance(meta, msgspec.Meta) and meta.extra:
                    found[field.encode_name] = {"name": field.encode_name, **meta.extra}
    return found


def _field(body: dict[str, Any]) -> dict[str, Any]:
    """Strip what only the Python side needs: a field is left out where it is not known, never null."""
    body = {key: value for key, value in body.items() if key != "default"}
    arms = [arm for arm in body.pop("anyOf", []) if arm != {"type": "null"}]
    merged = {**arms[0], **body} if arms else body
    if "additionalProperties" in merged:
        return _id_map(merged["additionalProperties"], merged.get("description", "By id."))
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
        "patternProperties": {ID_PATTERN: item, **_OWN_KEYS},
        "additionalProperties": False,
    }


def _by_id(name: str, doc: str) -> dict[str, Any]:
    return _id_map({"$ref": f"#/$defs/{name}"}, doc)


def _list_of(doc: str, item: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "description": doc, "items": {"type": "string", **item}}


def _types() -> dict[str, Any]:
    return {
        "description": "Types by section and id: fields that things of a type have in common.",
        **_closed({name: _by_id(f"{THINGS[name].part.__name__}Type", f"Types of {name} by id.") for name in TYPED}, ()),
    }


def write_all(folder: Path) -> None:
    """Write every schema into a folder."""
    for name, schema in SCHEMAS.items():
        text = json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"
        (folder / f"{name}.schema.json").write_text(text, "utf-8")


if __name__ == "__main__":
    write_all(Path(__file__).parents[2] / "schemas")
