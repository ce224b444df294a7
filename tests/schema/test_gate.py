"""The gate (jsonschema-rs) and its words, against the reference implementation jsonschema on faulty plans."""

import re
import sys
from collections import Counter
from typing import Any

import jsonschema
import pytest
from faulty_sites import KEYS, VALUES, mutated
from hypothesis import given, settings
from hypothesis import strategies as st
from steps import steps
from strategies import sites

from zonecfg import schema
from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar
from zonecfg.results.pointer import join, split
from zonecfg.schema.engine import PureEngine, engine
from zonecfg.workflow.load import Loader

BASE = {"format": "zonecfg-site/1", "state": "as-designed", "site": {"name": "Larkenby Hall"}}
VALIDATORS = {
    kind: jsonschema.Draft202012Validator(schema.schema_of(kind), format_checker=jsonschema.FormatChecker(["date"]))
    for kind in ("site", "catalogue")
}


def reference(data: Any, kind: str = "site") -> Counter[tuple[str, str]]:
    """Where jsonschema finds fault, and in what: one entry a value, a key too many, or a key that lacks."""
    found: Counter[tuple[str, str]] = Counter()
    for error in VALIDATORS[kind].iter_errors(data):
        at = join(*error.absolute_path)
        if error.validator == "additionalProperties":
            known = set(error.schema.get("properties", ()))
            patterns = [re.compile(pattern) for pattern in error.schema.get("patternProperties", ())]
            extras = [k for k in error.instance if k not in known and not any(p.search(k) for p in patterns)]
            found.update(((at + join(key)), "key") for key in extras)
        elif error.validator == "required":
            found[at, "lacks " + error.message.split("'")[1]] += 1
        else:
            found[at, "value"] += 1
    return found


def ours(data: Any, kind: str = "site") -> Counter[tuple[str, str]]:
    """Where the gate finds fault, told likewise; secrets below the user's own keys are no matter of the schema."""
    found: Counter[tuple[str, str]] = Counter()
    for fault in schema.faults(data, kind, may_hold_own_keys=False):
        told = f"lacks {fault.missing}" if fault.missing else "key" if fault.on_key else "value"
        found[fault.at, told] += 1
    return found


@settings(max_examples=400)
@given(mutated())
def test_same_faults_at_the_same_places(data):
    """One fault a wrong value, superfluous or missing key, on the narrowest node, as jsonschema has them.

    A value that breaks two rules of its own node at once (too short and of the wrong form) is one fault here.
    """
    theirs = reference(data)
    assert set(ours(data)) == set(theirs)
    assert all(count == 1 for count in ours(data).values())


@settings(max_examples=200)
@given(mutated())
def test_the_pure_engine_says_what_the_compiled_one_says(data):
    """Jsonschema behind the same gate: the same faults in the same words, for where nothing compiled runs."""
    told = schema.faults(data, "site", may_hold_own_keys=False)
    pure = schema.faults(data, "site", may_hold_own_keys=False, by=PureEngine("site"))
    assert {fault._replace(cures=()) for fault in told} == {fault._replace(cures=()) for fault in pure}
    assert {repr(fault.cures) for fault in told} == {repr(fault.cures) for fault in pure}


def test_the_pure_engine_stands_in_where_the_compiled_one_is_missing(monkeypatch):
    monkeypatch.setitem(sys.modules, "jsonschema_rs", None)
    engine.cache_clear()
    try:
        found = schema.faults({**BASE, "openings": {"W-1": {"width_mm": -1}}}, "site")
        assert isinstance(engine("site"), PureEngine)
        assert "/openings/W-1/width_mm" in {fault.at for fault in found}
    finally:
        engine.cache_clear()


@settings(max_examples=200)
@given(mutated(), st.permutations(["7", "007", "0", "101", "12"]))
def test_same_faults_where_ids_are_of_digits(data, digits):
    """Ids are text as written: 7 and 007 are two, and neither is a place in a list."""
    names = dict(zip(("W-01", "A-01", "room-1", "C-1", "chain-24"), digits, strict=True))
    numbered = {
        section: {names.get(thing, thing): fields for thing, fields in part.items()} if isinstance(part, dict) else part
        for section, part in data.items()
    }
    assert set(ours(numbered)) == set(reference(numbered))


@settings(max_examples=150)
@given(sites())
def test_sound_sites_have_no_faults(data):
    assert schema.faults(data, "site") == []
    assert reference(data) == Counter()


@settings(max_examples=150)
@given(st.recursive(VALUES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4)))
def test_any_data_at_all(data):
    """A file may hold anything; the verdict is the same, and no fault stands where nothing is."""
    for kind in ("site", "catalogue"):
        found = schema.faults(data, kind, may_hold_own_keys=False)
        assert bool(found) != VALIDATORS[kind].is_valid(data)
        for fault in found:
            node = data
            for token in split(fault.at):
                node = node[int(token) if isinstance(node, list) else token]
        assert schema.pruned(data, found) is not None or data is None or found


@settings(max_examples=250)
@given(mutated())
def test_what_is_left_is_sound_but_for_what_is_missing(data):
    """What the faults make unknown is taken out; what is left has no wrong value and no unknown key."""
    left = schema.pruned(data, schema.faults(data, "site", may_hold_own_keys=False))
    again = schema.faults(left, "site", may_hold_own_keys=False)
    # A thing whose id is none stays where it is, with nothing known of it: what refers to it is no broken reference.
    assert [
        fault for fault in again if fault.missing is None and not fault.message.startswith(repr(fault.path[-1]))
    ] == []


# Keys and columns are counted by hand; the nearest key is the one a reader would think of.
@pytest.mark.parametrize(
    ("text", "check", "at", "line", "column", "words"),
    [
        ("openings: {W-01: {room: studio, widht_mm: 900}}", "unknown-key", "/openings/W-01/widht_mm", 4, 33,
         "width_mm"),
        ("openings: {W-01: {room: studio, drop: 300}}", "unknown-key", "/openings/W-01/drop", 4, 33, "drop_mm"),
        ("opening: {}", "unknown-key", "/opening", 4, 1, "openings"),
        ("openings: {W-01: {room: studio, zzz: 1}}", "unknown-key", "/openings/W-01/zzz", 4, 33, "no part of W-01"),
        ("rooms: {studio: {storey: 1.5}}", "wrong-shape", "/rooms/studio/storey", 4, 26, "a whole number, not 1.5"),
        ("rooms: {studio: {use: bedrom}}", "wrong-shape", "/rooms/studio/use", 4, 23, "bedroom"),
        ("rooms: {studio: {floor_area_m2: 0}}", "wrong-shape", "/rooms/studio/floor_area_m2", 4, 33, "more than 0"),
        ("rooms: {studio: {floor_area_m2: 200000}}", "wrong-shape", "/rooms/studio/floor_area_m2", 4, 33,
         "100000 is the most"),
        ("rooms: {studio: {mechanical_air: 'true'}}", "wrong-shape", "/rooms/studio/mechanical_air", 4, 34,
         "true or false"),
        ("rooms: {studio: 7}", "wrong-shape", "/rooms/studio", 4, 17, "a mapping, not 7"),
        ("rooms: [studio]", "wrong-shape", "/rooms", 4, 1, "a mapping, not a list"),
        ("rooms:", "wrong-shape", "/rooms", 4, 1, "a mapping, not nothing"),
        ("groups: {east: {actuators: A-01}}", "wrong-shape", "/groups/east/actuators", 4, 28, "a list"),
        ("groups: {east: {actuators: [[A-01]]}}", "wrong-shape", "/groups/east/actuators/0", 4, 29, "text, not a list"),
        ("groups: {east: {}}", "wrong-shape", "/groups/east", 4, 10, "east of groups lacks actuators"),
        ("groups: {east side: {actuators: []}}", "wrong-shape", "/groups/east side", 4, 10, "cannot be an id"),
        ("wet_weather: {east: {open_percent: 101}}", "wrong-shape", "/wet_weather/east/open_percent", 4, 36,
         "100 is the most"),
        ("site: {}", "duplicate-key", "/site", 4, 1, "second time"),
        ("record: {groups: {east: {walk_test: passed}}}", "wrong-shape", "/record/groups/east/walk_test", 4, 37,
         "pass"),
        ("controllers: {C-1: {type: h, limits: {actuators: -1}}}", "wrong-shape", "/controllers/C-1/limits/actuators",
         4, 50,
         "0 is the least"),
        ("controllers: {C-1: {type: h, pin: 1}}", "secret-in-plan", "/controllers/C-1/pin", 4, 30, "secret"),
        ("x-a: {b: [{panelPassword: 1}]}", "secret-in-plan", "/x-a/b/0/panelPassword", 4, 12, "secret"),
        ("accepted: [{check: c, at: /, because: ' '}]", "wrong-shape", "/accepted/0/because", 4, 39, "empty"),
        ("accepted: [{check: c, at: /, because: b, until: 2027-2-1}]", "wrong-shape", "/accepted/0/until", 4, 49,
         "2026-05-14"),
    ],
)  # fmt: skip
def test_words_and_places(tmp_path, text, check, at, line, column, words):
    """One finding a fault, on the narrowest node."""
    raw = f"format: zonecfg-site/1\nstate: as-designed\nsite: {{name: Larkenby Hall}}\n{text}\n".encode()
    state = Loader().state_of(read(raw, "plan.yaml", grammar().as_written), tmp_path / "plan.yaml")
    found = [f for f in state.findings if f.check != "unknown-reference"]
    assert [(f.check, f.at, f.line, f.column) for f in found] == [(check, at, line, column)]
    assert words in found[0].message


@pytest.mark.parametrize("name", ["pin", "PIN", "panel_pin", "panelPin", "x-wifi-password", "passwd", "passcode",
                                  "api_key",
                                  "accessToken", "client-secret", "credentials", "ssh_keys"])  # fmt: skip
def test_names_of_secrets(name):
    assert schema.names_a_secret(name)


@pytest.mark.parametrize("name", ["pine", "pinion", "spindle", "opinion", "keypad", "monkey", "pivot_brackets",
                                  "panel_locked",
                                  "x-keyboard", "tokenise", "x-frame", "stopping"])  # fmt: skip
def test_names_of_no_secrets(name):
    assert not schema.names_a_secret(name)


def test_no_field_of_the_format_is_named_like_a_secret():
    """Else every plan that uses it would be refused."""
    fields = [name for body in schema.schema_of("site")["$defs"].values() for name in body.get("properties", ())]
    assert [name for name in fields if schema.names_a_secret(name)] == []


class TestSavedCopies:
    """A saved copy needs format, state, site and saved; its things need no types; nothing else is allowed in it."""

    SAVED = {**BASE, "state": "saved", "saved": {"date": "2026-05-14"}}

    def test_least(self):
        assert schema.faults(self.SAVED, "site") == []

    def test_without_saved(self):
        (fault,) = schema.faults({**BASE, "state": "saved"}, "site")
        assert (fault.check, fault.at, fault.missing) == ("wrong-shape", "", "saved")

    def test_things_without_types(self):
        data = {**self.SAVED, "actuators": {"A-01": {"serial": "70041832"}}, "sensors": {"R-1": {}}}
        assert schema.faults(data, "site") == []
        live = {**data, "state": "as-commissioned"}
        assert {fault.missing for fault in schema.faults(live, "site")} == {"type", "opening"}

    def test_a_controller_of_a_copy_has_a_serial_and_a_firmware_only(self):
        data = {**self.SAVED, "saved": {"controllers": {"C-1": {"serial": "4", "firmware": "2", "room": "studio"}}}}
        (fault,) = schema.faults(data, "site")
        assert (fault.check, fault.at) == ("unknown-key", "/saved/controllers/C-1/room")


def test_growth_is_linear():
    """Ten times as many wrong values are ten times as many faults, and ten times the work."""

    def wrong(rooms: int) -> dict:
        return {**BASE, "rooms": {f"room-{n}": {"storey": "ground", "use": "hall"} for n in range(rooms)}}

    assert len(schema.faults(wrong(5_000), "site")) == 10_000
    assert steps(lambda: schema.faults(wrong(1_000), "site")) < 11 * steps(lambda: schema.faults(wrong(100), "site"))
