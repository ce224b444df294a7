"""Pairs found on the bus, worked out by hand on small plants; nothing is proposed that could be otherwise."""

import itertools
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from plans import site_of

from zonecfg.errors import UnreadableSheet
from zonecfg.identify.found import OnBus, read_found
from zonecfg.identify.match import matched
from zonecfg.schema import schema_of
from zonecfg.workflow.match import match as match_files

ROOT = Path(__file__).parents[2]


def plant(serials, types=None, *, cables=True):
    """One controller and a line of actuators A-1, A-2, ... on its bus; None is a serial nobody wrote down."""
    types = types or ["chain"] * len(serials)
    names = [f"A-{n}" for n in range(1, len(serials) + 1)]
    line = ["C-1", *names]
    return site_of(
        {
            "format": "zonecfg-site/1",
            "state": "as-designed",
            "site": {"name": "Old Granary"},
            "types": {
                "actuators": {"chain": {}, "rack": {}},
                "controllers": {"panel": {}},
                "cables": {"pair": {}},
            },
            "rooms": {"loft": {}},
            "openings": {f"W-{n}": {"room": "loft"} for n in range(1, len(serials) + 1)},
            "controllers": {"C-1": {"type": "panel"}},
            "actuators": {
                name: {"type": kind, "opening": f"W-{n}", **({"serial": serial} if serial else {})}
                for n, (name, serial, kind) in enumerate(zip(names, serials, types, strict=True), 1)
            },
            "cables": {
                f"K-{n}": {"from": a, "to": b, "length_m": 2, "type": "pair", "carries": ["bus"]}
                for n, (a, b) in enumerate(itertools.pairwise(line))
            }
            if cables
            else {},
        }
    )


def found(*serials, kind=None, order=True):
    return [
        OnBus(serial=serial, row=n + 1, order=n if order else None, type=kind) for n, serial in enumerate(serials, 1)
    ]


def answer(site, entries):
    return matched(site, entries, plan="plan", found_name="found")


def test_all_paired():
    told = answer(plant(["1", "2", "3"]), found("1", "2", "3"))
    assert [(p.actuator, p.serial) for p in told.paired] == [("A-1", "1"), ("A-2", "2"), ("A-3", "3")]
    assert (told.missing, told.strange, told.proposals) == ((), (), ())
    assert [(c.controller, c.planned, c.found, c.difference) for c in told.controllers] == [("C-1", 3, 3, 0)]


def test_missing_and_strange_and_the_count():
    told = answer(plant(["1", "2", "3"]), found("1", "8", "9", "3"))
    assert [m.actuator for m in told.missing] == ["A-2"]
    assert [s.serial for s in told.strange] == ["8", "9"]
    assert told.controllers[0].difference == 1
    assert told.proposals == ()  # A-2 has a serial: a stranger in its place is not its serial


def test_bus_order_leaves_no_choice():
    told = answer(plant(["1", None, "3", None]), found("1", "8", "3", "9"))
    assert [(p.actuator, p.serial) for p in told.proposals] == [("A-2", "8"), ("A-4", "9")]


@pytest.mark.parametrize(
    "entries",
    [
        found("8", "1", "3", "9"),  # what is known does not fit the order
        found("1", "8", "3"),  # one too few
        found("1", "8", "3", "9", order=False),
        found("1", "8", "3", "9", kind="rack"),  # another type
    ],
)
def test_nothing_is_proposed_where_it_could_be_otherwise(entries):
    assert answer(plant(["1", None, "3", None]), entries).proposals == ()


def test_the_only_one_of_its_type():
    site = plant([None, "2", None], ["rack", "chain", "chain"], cables=False)
    entries = [
        OnBus(serial="8", row=2, type="rack"),
        OnBus(serial="2", row=3, type="chain"),
        OnBus(serial="9", row=4, type="chain"),
    ]
    assert {(p.actuator, p.serial) for p in answer(site, entries).proposals} == {("A-1", "8"), ("A-3", "9")}


def test_what_does_not_fit_is_said():
    told = answer(plant(["1"]), [OnBus(serial="1", row=2, type="rack", controller="C-9")])
    assert told.paired[0].differs == ("found as rack, planned as chain", "found on C-9, planned on C-1")


def test_types_that_the_plan_does_not_have_are_named():
    entries = [OnBus(serial="1", row=2, type="chian"), OnBus(serial="8", row=3, type="gear"),
               OnBus(serial="9", row=4, type="chian")]  # fmt: skip
    told = answer(plant(["1", None]), entries)
    assert told.remarks == (
        "chian (rows 2 and 4) is none of the plan's types of actuators; chain is the nearest known",
        "gear (row 3) is none of the plan's types of actuators",
    )
    assert answer(plant(["1"]), found("1", kind="chain")).remarks == ()


@given(st.lists(st.booleans(), min_size=1, max_size=6), st.randoms(use_true_random=False))
def test_a_proposal_is_never_wrong(known, random):
    """Whatever serials are written down: proposals made of a true bus list are the truth."""
    truth = [str(100 + n) for n in range(len(known))]
    random.shuffle(truth)
    site = plant([serial if is_known else None for serial, is_known in zip(truth, known, strict=True)])
    told = answer(site, found(*truth))
    real = dict(zip((f"A-{n}" for n in range(1, len(known) + 1)), truth, strict=True))
    assert all(real[p.actuator] == p.serial for p in told.proposals)
    assert len(told.proposals) == known.count(False)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("serail\n1\n", "column 1: serail is none of"),
        ("type\nx\n", "a column serial is needed"),
        ("serial,serial\n1,2\n", "column 2: serial stands twice"),
        ("serial\n1\n2\n1\n", "row 4, column serial: 1 stands in row 2"),
        ("serial,order\n1,two\n", "row 2, column order: two is no whole number"),
        ("serial,type\n,x\n", "row 2, column serial: no serial"),
        ("serial\n1,2\n", "row 2: 2 cells under 1 columns"),
        ("", "an empty name is none of|a column serial is needed"),
    ],
)
def test_a_list_that_cannot_be_taken(tmp_path, text, words):
    path = tmp_path / "found.csv"
    path.write_text(text, "utf-8")
    with pytest.raises(UnreadableSheet, match=words):
        read_found(path)


def test_semicolons_and_a_byte_order_mark(tmp_path):
    path = tmp_path / "found.csv"
    path.write_text("serial;order\n0070;1\n", "utf-8-sig")
    assert [(f.serial, f.order) for f in read_found(path)] == [("0070", 1)]


def test_the_example_building():
    """One actuator does not answer, and one stranger of its type does: said, and not taken for the same."""
    folder = ROOT / "examples" / "larkenby-hall"
    told = match_files(folder / "as-commissioned.yaml", folder / "site-work" / "found.csv")
    assert len(told.paired) == 59
    assert [m.actuator for m in told.missing] == ["A-204"]
    assert [s.serial for s in told.strange] == ["70049999"]
    assert all(c.difference == 0 for c in told.controllers)
    Draft202012Validator(schema_of("match")).validate(msgspec.json.decode(msgspec.json.encode(told)))
