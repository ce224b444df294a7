"""Currents and voltages of drawn sites, against a plain reading of the events and a matrix of conductances."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plans import PAIR, fields, plan, site_of, worst_cases

from zonecfg.figures import Figures
from zonecfg.figures.events import draws

OHM_PER_M = 2 * 7.98e-3 * (1 + 0.00393 * 20)
"""There and back, 2.5 mm², class 5, 40 °C (IEC 60228)."""


@st.composite
def wired(draw):
    """One to three controllers and up to ten sashes on one or two supplies; tree-shaped cables, or with loops."""
    controllers = [f"C-{n}" for n in range(1, draw(st.integers(1, 3)) + 1)]
    actuators, openings, groups = {}, {}, {}
    for number in range(draw(st.integers(1, 10))):
        sash, home = f"W-{number}", draw(st.sampled_from(controllers))
        openings[sash] = {"type": "sash", "room": "room"}
        for part in "ab"[: draw(st.integers(1, 2))]:
            kind = draw(st.sampled_from(["weak", "strong", "running", "odd"]))
            actuators[f"A-{number}{part}"] = {"type": kind, "opening": sash, "controller": home, "stroke_mm": 250}
        group = f"G-{home}-{draw(st.integers(1, 2))}"
        groups.setdefault(group, []).extend(a for a in actuators if actuators[a]["opening"] == sash)
    sensors = [f"R-{n}" for n in range(draw(st.integers(0, 2)))]
    supplies = [f"PS-{n}" for n in range(1, draw(st.integers(1, 2)) + 1)]
    parts = {supply: [supply] for supply in supplies}
    cables = {}
    for thing in draw(st.permutations([*actuators, *controllers, *sensors])):
        part = parts[draw(st.sampled_from(supplies))]
        length = draw(st.sampled_from([1, 2.5, 9, 14, 40]))
        cables[f"K-{len(cables)}"] = _cable(draw(st.sampled_from(part[-4:])), thing, length)
        part.append(thing)
    for _ in range(draw(st.sampled_from([0, 0, 1, 3]))):
        part = parts[draw(st.sampled_from(supplies))]
        one, other = draw(st.sampled_from(part)), draw(st.sampled_from(part))
        if one != other:
            cables[f"K-{len(cables)}"] = _cable(one, other, draw(st.sampled_from([3, 7])))
    return plan(
        types_actuators={
            "weak": {"running_a": 0.5, "peak_a": 0.7, "idle_a": 0.02},
            "strong": {"running_a": 1.1, "peak_a": 1.4, "idle_a": 0.03},
            "running": {"running_a": 0.7, "idle_a": 0.01},
            "odd": {"running_a": 0.01, "idle_a": 0.05},  # more at rest than while it moves
        },
        types_controllers={
            "few": {"moves_at_once": draw(st.integers(1, 4)), "idle_a": 0.15},
            "any": {"idle_a": 0.2},
        },
        openings=openings,
        controllers={c: {"type": draw(st.sampled_from(["few", "any"]))} for c in controllers},
        supplies={supply: {"type": "psu"} for supply in supplies},
        actuators={"A-1": {"type": "weak", "opening": "W-1", "controller": "C-1"}} | actuators,
        groups={"G": {"actuators": ["A-1"]}} | {g: {"actuators": members} for g, members in groups.items()},
        sensors={s: {"type": "plate"} for s in sensors},
        links={s: draw(st.lists(st.sampled_from(list(groups)), min_size=1, unique=True)) for s in sensors},
        cables={"K-A": _cable("PS-1", "A-1", 12)} | cables,
    )  # fmt: skip


def _cable(one, other, length):
    return {"from": one, "to": other, "length_m": length, "type": "pair", "carries": ["power"]}


def drops(data, supply, loads):
    """Voltage lost to everything the supply feeds, by inverting the matrix of conductances."""
    reached = [supply]
    for node in reached:
        for cable in data["cables"].values():
            ends = cable["from"], cable["to"]
            if node in ends:
                other = ends[ends[0] == node]
                if other not in reached:
                    reached.append(other)
    place = {node: index for index, node in enumerate(reached)}
    matrix = np.zeros((len(reached), len(reached)))
    for cable in data["cables"].values():
        if cable["from"] in place:
            i, j, siemens = place[cable["from"]], place[cable["to"]], 1 / (cable["length_m"] * OHM_PER_M)
            matrix[[i, j], [i, j]] += siemens
            matrix[[i, j], [j, i]] -= siemens
    inverse = np.linalg.inv(matrix[1:, 1:])
    fallen = inverse @ np.array([loads.get(node, 0.0) for node in reached[1:]])
    return dict(zip(reached[1:], fallen, strict=True)), dict(zip(reached[1:], np.diag(inverse), strict=True))


@settings(max_examples=150)
@given(wired())
def test_every_voltage_and_peak(data):
    """The lowest voltage of every actuator over all events, and the largest current of every supply."""
    power = Figures(site_of(data)).power
    ohm = {}
    for supply in data["supplies"]:
        ohm |= drops(data, supply, {})[1]
    cases = worst_cases(data, ohm)
    for supply in data["supplies"]:
        if supply not in {end for cable in data["cables"].values() for end in (cable["from"], cable["to"])}:
            assert power.supplies[supply].peak_a is None
            continue
        fallen = [drops(data, supply, loads)[0] for _, loads in cases]
        totals = [sum(amp for thing, amp in loads.items() if thing in fallen[0]) for _, loads in cases]
        figure = power.supplies[supply]
        assert figure.peak_a == pytest.approx(max(totals), rel=1e-9)
        assert dict(zip((name for name, _ in cases), totals, strict=True))[figure.peak_event] == pytest.approx(
            max(totals)
        )
        for actuator in data["actuators"]:
            if actuator in fallen[0]:
                found = power.voltage(actuator)
                assert found.volt == pytest.approx(24 - max(case[actuator] for case in fallen), rel=1e-9)


@settings(max_examples=100)
@given(wired())
def test_every_cable_and_controller(data):
    """The largest current of every cable, by Ohm's law from the voltages of each event; what runs on past controllers."""
    power = Figures(site_of(data)).power
    ohm = {}
    for supply in data["supplies"]:
        ohm |= drops(data, supply, {})[1]
    cases = worst_cases(data, ohm)
    for supply, network in power.networks.items():
        amps = {cable.id: [] for cable in network.cables}
        for _, loads in cases:
            fallen = {supply: 0.0, **drops(data, supply, loads)[0]}
            for cable in network.cables:
                one, other = data["cables"][cable.id]["from"], data["cables"][cable.id]["to"]
                amps[cable.id].append((fallen[other] - fallen[one]) / (cable.length_m * OHM_PER_M))
        for cable in network.cables:
            assert network.carried[cable.id].amp == pytest.approx(max(map(abs, amps[cable.id])), rel=1e-6, abs=1e-9)
        for controller in data["controllers"]:
            if controller in network.things and network.passes(controller):
                outward = [
                    sum(
                        max(0.0, amps[c.id][case] * (1 if data["cables"][c.id]["from"] == controller else -1))
                        for c in network.cables
                        if controller in (c.from_, c.to)
                    )
                    for case in range(len(cases))
                ]
                assert network.passed_on(controller).amp == pytest.approx(max(outward), rel=1e-6, abs=1e-9)


@settings(max_examples=60)
@given(wired(), st.sampled_from([4.0, 6.0, 10.0]))
def test_a_larger_conductor_is_computed_anew(data, size):
    """The voltage promised for a larger conductor is the one of a plan with that conductor."""
    built = Figures(site_of(data)).power
    larger = plan(**{**data, "types": {**data["types"], "cables": {"pair": {**PAIR, "conductor_mm2": size}}}})
    anew = Figures(site_of(larger)).power
    for supply, network in built.networks.items():
        promised = network.with_conductors(size)
        for actuator in data["actuators"]:
            if actuator in network.things:
                assert promised[actuator].volt == pytest.approx(anew.networks[supply].lowest[actuator].volt, rel=1e-9)


def test_a_queue_takes_the_strongest_sashes():
    """Of three sashes two at once: the two strong ones move, whichever group asks; ties go by resistance, then id."""
    data = plan(
        types_actuators={"strong": {"peak_a": 2.0, "idle_a": 0.02}},
        controllers={"C-1": {"type": "hall", "moves_at_once": 2}},
        openings={w: {"type": "sash", "room": "room"} for w in ("W-2", "W-3")},
        actuators={
            "A-1": {"controller": "C-1"},
            "A-2": {"type": "strong", "opening": "W-2", "controller": "C-1"},
            "A-3": {"type": "strong", "opening": "W-3", "controller": "C-1"},
        },
        groups={"G": {"actuators": ["A-1", "A-2", "A-3"]}},
        supplies={"PS-1": {"type": "psu"}},
        cables={
            "K-1": _cable("PS-1", "C-1", 1), "K-2": _cable("PS-1", "A-1", 90), "K-3": _cable("PS-1", "A-2", 2),
            "K-4": _cable("PS-1", "A-3", 3),
        },
    )  # fmt: skip
    assert Figures(site_of(data)).power.supplies["PS-1"].peak_a == pytest.approx(2 * 2.0 + 0.02 + 0.15)
    data["actuators"]["A-1"] = {"type": "strong", "opening": "W-1", "controller": "C-1"}
    # Now all are alike: the two furthest away move, A-1 and A-3.
    assert Figures(site_of(data)).power.voltage("A-2").volt == pytest.approx(24 - 2 * OHM_PER_M * 0.02)
    data["cables"]["K-4"]["length_m"] = 2
    # And of two as far away the one with the lower id.
    assert Figures(site_of(data)).power.voltage("A-3").volt == pytest.approx(24 - 2 * OHM_PER_M * 0.02)


def test_ties_between_events():
    """Everything in one group on one sensor: all three events are alike, and "all close" is told."""
    data = plan(
        supplies={"PS-1": {"type": "psu"}}, sensors={"R-1": {"type": "plate"}}, links={"R-1": ["G"]},
        cables={"K-1": _cable("PS-1", "A-1", 5), "K-2": _cable("A-1", "R-1", 5)},
    )  # fmt: skip
    assert Figures(site_of(data)).power.supplies["PS-1"].peak_event == "all close"
    assert Figures(site_of(data)).power.voltage("A-1").event == "all close"


@pytest.mark.parametrize(("peak", "counts"), [(0.3, 1.8), (2.5, 2.5), (None, 1.8)])
def test_the_larger_of_peak_and_running_current_counts(peak, counts):
    """By hand: 1.8 A while it runs; nothing draws less at its peak than while it runs."""
    data = plan(types_actuators={"chain": {"running_a": 1.8, "peak_a": peak}})
    if peak is None:
        del data["types"]["actuators"]["chain"]["peak_a"]
    found = draws(site_of(data))
    assert set(found.moving_a.values()) == {counts}
    assert bool(found.running_only) == (peak is None)


def test_names_of_events():
    """A sensor's groups can ask more of a supply than all together, where a controller has a queue elsewhere."""
    data = plan(
        types_actuators={"strong": {"peak_a": 3.0, "idle_a": 0.02}},
        controllers={"C-1": {"type": "hall", "moves_at_once": 1}},
        openings={"W-2": {"type": "sash", "room": "room"}},
        actuators={"A-1": {"controller": "C-1"}, "A-2": {"type": "strong", "opening": "W-2", "controller": "C-1"}},
        groups={"G": {"actuators": ["A-1"]}, "H": {"actuators": ["A-2"]}},
        supplies={"PS-1": {"type": "psu"}, "PS-2": {"type": "psu"}},
        sensors={"R-1": {"type": "plate", "running_a": 0}},
        links={"R-1": ["G"]},
        cables={"K-1": _cable("PS-1", "A-1", 5), "K-2": _cable("PS-2", "A-2", 5)},
    )
    supplies = Figures(site_of(data)).power.supplies
    assert supplies["PS-1"].peak_event == "R-1 closes its groups"  # when all close, A-2 goes first
    data["links"] = {}
    assert Figures(site_of(data)).power.supplies["PS-1"].peak_event == "group G closes"
    assert fields(data, "actuators", "A-1")["peak_a"] == pytest.approx(1.0)
    assert supplies["PS-1"].peak_a == pytest.approx(1.0)
