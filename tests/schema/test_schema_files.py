"""The schemas as published: valid by their dialect, made from the model, and every field of them explained."""

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from marked_examples import cases

from zonecfg.document.reader import read
from zonecfg.model import evidence
from zonecfg.model.grammar import grammar
from zonecfg.model.schemas import SCHEMAS

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "schemas"
KINDS = sorted(SCHEMAS)


def committed(kind: str) -> dict[str, Any]:
    return json.loads((FOLDER / f"{kind}.schema.json").read_text("utf-8"))


def properties(node: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Give every property of a schema with where it stands, those of definitions included."""
    if isinstance(node, dict):
        for name, part in node.get("properties", {}).items():
            if not path.endswith("/if"):
                yield f"{path}/{name}", part
        for key, value in node.items():
            yield from properties(value, f"{path}/{key}")
    elif isinstance(node, list):
        for value in node:
            yield from properties(value, path)


@pytest.mark.parametrize("kind", KINDS)
def test_valid_by_the_metaschema(kind):
    """JSON Schema 2020-12, its own metaschema, by jsonschema."""
    schema = committed(kind)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("kind", KINDS)
def test_not_stale(kind):
    """What is committed is what the model says; ``python -m zonecfg.model.schemas`` writes it anew."""
    assert committed(kind) == SCHEMAS[kind]()


def test_no_schema_without_its_maker():
    assert {path.name.removesuffix(".schema.json") for path in FOLDER.iterdir()} == set(KINDS)


@pytest.mark.parametrize("kind", ["site", "catalogue"])
def test_every_property_is_described(kind):
    """An editor shows it on hover; a sentence, and the unit where the key ends in one."""
    schema = committed(kind)
    undescribed = [where for where, part in properties(schema) if not part.get("description", "").endswith(".")]
    assert undescribed == []


@pytest.mark.parametrize("kind", KINDS)
def test_every_reference_leads_somewhere(kind):
    text = json.dumps(committed(kind))
    definitions = set(committed(kind).get("$defs", {}))
    used = {piece.split('"')[0] for piece in text.split('"#/$defs/')[1:]}
    assert used == definitions


@pytest.mark.parametrize("kind", ["site", "catalogue"])
def test_examples_are_right_by_their_own_field(kind):
    """An example that the schema itself refuses would be copied all the same."""
    schema = committed(kind)
    found = 0
    for where, part in properties(schema):
        validator = jsonschema.Draft202012Validator(
            {**part, "$defs": schema["$defs"]}, format_checker=jsonschema.FormatChecker(["date"])
        )
        for example in part.get("examples", ()):
            found += 1
            assert validator.is_valid(example), where
    assert found > 80


def test_every_field_of_a_thing_has_an_example_or_a_list_of_words():
    schema = committed("site")
    bare = [
        where
        for where, part in properties(schema)
        if where.startswith("/$defs/")
        and not where.startswith(("/$defs/Site/", "/$defs/SavedCopy/", "/$defs/Record/", "/$defs/Saved/"))
        and not {"examples", "enum", "$ref"} & set(part)
    ]
    assert bare == []


def test_every_unit_in_a_key_is_the_unit_of_the_field():
    """The units of the format, longest first: the key says them, and the description says them again."""
    units = {
        "n_per_m": "N/m", "mm_s": "mm/s", "m_s": "m/s", "mm2": "mm²", "m2": "m²", "mm": "mm", "m": "m", "kg": "kg",
        "n": "N",
        "v": "V", "a": "A", "s": "s", "minutes": "min", "deg": "°", "c": "°C", "ohm": "Ω", "percent": "%",
        "ah": "Ah", "h": "h", "kpa": "kPa",
    }  # fmt: skip
    wrong = []
    for part, node in grammar().parts.items():
        for name, inner in node.keys.items():
            unit = inner.said.unit
            ending = next((end for end in units if name.endswith(f"_{end}")), None)
            if name in {"actuators_per_group", "groups_per_sensor", "saved_copy_keeps"}:
                ending = None
            expected = units.get(ending or "")
            if unit != expected and not (expected == "V" and unit == "V DC"):
                wrong.append((part.__name__, name, unit, expected))
    assert [entry for entry in wrong if entry[1] != "bit_rate"] == []


def test_sections_in_their_order():
    """The order of the format's own table."""
    assert list(grammar().order) == [
        "format", "state", "site", "catalogue", "house", "types", "rooms", "openings", "controllers", "supplies", "actuators",
        "groups", "sensors", "links", "wet_weather", "strong_wind", "junctions", "cables", "terminators", "record",
        "saved",
        "accepted",
    ]  # fmt: skip
    assert set(committed("site")["$defs"]["Site"]["properties"]) == set(grammar().order)


def test_what_is_read_as_written_is_what_names_something():
    """A plain number stays text in every field that names a thing or repeats a label, and in no field that counts.

    Left out are the fields of words that no bare number fills: rule sets, checks and pointers, reasons and people.
    """
    words = {"falls", "ventilation", "escape", "check", "at", "because", "by", "do", "remark"}
    texts, others = set(), set()
    schema = committed("site")
    for body in schema["$defs"].values():
        for name, part in body.get("properties", {}).items():
            plain = part.get("type") == "string" and "enum" not in part and "format" not in part
            (texts if plain else others).add(name)
    sections = set(grammar().order) | set(grammar().things)
    assert texts - words == set(grammar().as_written)
    assert not grammar().as_written & (others - sections)
    assert evidence.Acceptance.__name__ in schema["$defs"]


@pytest.mark.parametrize("name", sorted(grammar().as_written))
def test_a_plain_number_is_text_there(name):
    """``0070`` keeps its zeros, as the format promises for what labels say."""
    assert read(f"{name}: 0070\n".encode(), "f", grammar().as_written).data == {name: "0070"}


class TestCheckJsonschema:
    """An independent command line, check-jsonschema, agrees with the examples; editors do as it does."""

    @staticmethod
    def run(kind: str, files: list[Path]) -> tuple[int, dict[str, Any]]:
        done = subprocess.run(
            [sys.executable, "-m", "check_jsonschema", "--schemafile", FOLDER / f"{kind}.schema.json",
             "--output-format",
             "json", *files],
            capture_output=True, text=True, check=False, timeout=120,
        )  # fmt: skip
        return done.returncode, json.loads(done.stdout)

    def test_sites(self):
        good = [path for path in cases() if path.name.startswith("good") and "catalogue" not in path.stem]
        house = ROOT / "examples" / "larkenby-hall"
        files = [*good, *house.glob("as-*.yaml"), *house.glob("saved/*.yaml")]
        assert self.run("site", files) == (0, {"status": "ok", "errors": []}), files[:1]

    def test_catalogues(self):
        good = [path for path in cases() if path.name.startswith("good") and "catalogue" in path.stem]
        files = [*good, ROOT / "examples" / "larkenby-hall" / "equipment.yaml"]
        assert self.run("catalogue", files) == (0, {"status": "ok", "errors": []})

    def test_it_refuses_what_is_marked_as_misshapen(self):
        """All that our own gate must refuse too: unknown keys and wrong shapes, by its own count of files."""
        bad = [
            path
            for path in cases()
            if path.parent.name in {"unknown-key", "wrong-shape"} and path.name.startswith("bad")
        ]
        files = [path for path in bad if "catalogue" not in path.stem]
        status, answer = self.run("site", files)
        assert status == 1
        assert {Path(error["filename"]).name for error in answer["errors"]} == {path.name for path in files}
