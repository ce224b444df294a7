"""Currents and voltages of drawn sites, against every set of movers there can be and a matrix of conductances."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plans import PAIR, drawn, moving_sets, plan, site_of

from zonecfg.figures import Figures
from zonecfg.figures.draws import draws

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


def conductances(data, supply):
    """Everything that a supply reaches, and the inverse of its matrix of conductances: volts lost an ampere drawn."""
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
    return reached, np.linalg.inv(matrix[1:, 1:])


def every_case(data, nodes):
    """What the nodes draw [A], a column a set of movers."""
    cases = [drawn(data, moving) for moving in moving_sets(data)]
    return np.array([[loads.get(node, 0.0) for loads in cases] for node in nodes])


@settings(max_examples=150)
@given(wired())
def test_every_voltage_and_peak(data):
    """Over all sets that may move together: the lowest voltage of every thing, the largest current of every supply."""
    power = Figures(site_of(data)).power
    for supply in data["supplies"]:
        if supply not in {end for cable in data["cables"].values() for end in (cable["from"], cable["to"])}:
            assert power.supplies[supply].peak_a is None
            continue
        nodes, inverse = conductances(data, supply)
        loads = every_case(data, nodes[1:])
        assert power.supplies[supply].peak_a == pytest.approx(loads.sum(axis=0).max(), rel=1e-9)
        lost = (inverse @ loads).max(axis=1)
        for node, drop in zip(nodes[1:], lost, strict=True):
            assert power.voltage(node).volt == pytest.approx(24 - drop, rel=1e-9)
            network = power.networks[supply]
            assert network.below(node, 24 - drop + 0.001).volt == pytest.approx(24 - drop, rel=1e-9)
            assert network.below(node, 24 - drop - 0.001) is None


@settings(max_examples=100)
@given(wired())
def test_every_cable_and_controller(data):
    """The largest current of every cable by Ohm's law; what runs on past controllers, in loops at least that."""
    power = Figures(site_of(data)).power
    for supply, network in power.networks.items():
        nodes, inverse = conductances(data, supply)
        lost = np.vstack(
            [np.zeros((1, 1)).repeat(len(list(moving_sets(data))), 1), inverse @ every_case(data, nodes[1:])]
        )
        place = {node: index for index, node in enumerate(nodes)}
        amps = {}
        for cable in network.cables:
            one, other = (place[data["cables"][cable.id][end]] for end in ("from", "to"))
            amps[cable.id] = (lost[other] - lost[one]) / (cable.length_m * OHM_PER_M)
            worst = np.abs(amps[cable.id]).max()
            assert network.carried(cable).amp == pytest.approx(worst, rel=1e-6, abs=1e-9)
        for controller in data["controllers"]:
            if controller in network.things and network.passes(controller):
                outward = sum(
                    np.maximum(0.0, amps[c.id] * (1 if data["cables"][c.id]["from"] == controller else -1))
                    for c in network.cables
                    if controller in (c.from_, c.to)
                ).max()
                found = network.passed_on(controller).amp
                if network.has_loop:
                    assert found >= outward - 1e-9
                else:
                    assert found == pytest.approx(outward, rel=1e-6, abs=1e-9)


@settings(max_examples=60)
@given(wired(), st.sampled_from([4.0, 6.0, 10.0]))
def test_a_larger_conductor_is_computed_anew(data, size):
    """The voltage promised for a larger conductor is the one of a plan with that conductor."""
    built = Figures(site_of(data)).power
    larger = plan(**{**data, "types": {**data["types"], "cables": {"pair": {**PAIR, "conductor_mm2": size}}}})
    anew = Figures(site_of(larger)).power
    for supply, network in built.networks.items():
        for actuator in data["actuators"]:
            if actuator in network.things:
                promised = network.with_conductors(size, actuator)
                assert promised.volt == pytest.approx(anew.networks[supply].lowest(actuator).volt, rel=1e-9)


def test_each_place_has_its_own_worst_moment():
    """By hand: one sash moves at once. The far one waits while the near one moves, and loses only what it draws at rest."""
    data = plan(
        types_actuators={"strong": {"peak_a": 2.0, "idle_a": 0.0}, "weak": {"peak_a": 1.0, "idle_a": 0.0}},
        controllers={"C-1": {"type": "hall", "moves_at_once": 1, "idle_a": 0}},
        openings={"W-2": {"type": "sash", "room": "room"}},
        actuators={
            "A-1": {"type": "strong", "opening": "W-1", "controller": "C-1"},
            "A-2": {"type": "weak", "opening": "W-2", "controller": "C-1"},
        },
        groups={"G": {"actuators": ["A-1", "A-2"]}},
        supplies={"PS-1": {"type": "psu"}},
        cables={"K-1": _cable("PS-1", "A-1", 10), "K-2": _cable("A-1", "A-2", 100)},
    )  # fmt: skip
    power = Figures(site_of(data)).power
    assert power.supplies["PS-1"].peak_a == pytest.approx(2.0)
    assert power.voltage("A-1").volt == pytest.approx(24 - 2.0 * 10 * OHM_PER_M)
    assert power.voltage("A-2").volt == pytest.approx(24 - 1.0 * 110 * OHM_PER_M)  # its own turn is worse: 110 > 20


@pytest.mark.parametrize(("peak", "counts"), [(0.3, 1.8), (2.5, 2.5), (None, 1.8)])
def test_the_larger_of_peak_and_running_current_counts(peak, counts):
    """By hand: 1.8 A while it runs; nothing draws less at its peak than while it runs."""
    data = plan(types_actuators={"chain": {"running_a": 1.8, "peak_a": peak}})
    if peak is None:
        del data["types"]["actuators"]["chain"]["peak_a"]
    found = draws(site_of(data))
    assert set(found.moving_a.values()) == {counts}
    assert bool(found.running_only) == (peak is None)


def test_a_queue_elsewhere_spares_nobody():
    """What moves at once may all hang on one supply: both give their own sash's current, though only one moves at a time."""
    data = plan(
        types_actuators={"strong": {"peak_a": 3.0, "idle_a": 0.02}},
        controllers={"C-1": {"type": "hall", "moves_at_once": 1}},
        openings={"W-2": {"type": "sash", "room": "room"}},
        actuators={"A-1": {"controller": "C-1"}, "A-2": {"type": "strong", "opening": "W-2", "controller": "C-1"}},
        groups={"G": {"actuators": ["A-1"]}, "H": {"actuators": ["A-2"]}},
        supplies={"PS-1": {"type": "psu"}, "PS-2": {"type": "psu"}},
        cables={"K-1": _cable("PS-1", "A-1", 5), "K-2": _cable("PS-2", "A-2", 5)},
    )
    supplies = Figures(site_of(data)).power.supplies
    assert supplies["PS-1"].peak_a == pytest.approx(1.0)
    assert supplies["PS-2"].peak_a == pytest.approx(3.0)


def test_a_fire_command_may_move_more_at_once():
    """Two vents and a window, one at a time; on a fire command both vents: 2 x 1.0 A and 0.02 A of the window at rest."""
    data = plan(
        types_actuators={"chain": {"peak_a": 1.0, "idle_a": 0.02}},
        controllers={"C-1": {"type": "hall", "moves_at_once": 1, "fire_moves_at_once": 9, "idle_a": 0}},
        openings={
            "W-2": {"type": "sash", "room": "room", "smoke_vent": True},
            "W-3": {"type": "sash", "room": "room", "smoke_vent": True},
        },
        actuators={
            "A-1": {"controller": "C-1"},
            "A-2": {"type": "chain", "opening": "W-2", "controller": "C-1"},
            "A-3": {"type": "chain", "opening": "W-3", "controller": "C-1"},
        },
        supplies={"PS-1": {"type": "psu"}},
        cables={"K-1": _cable("PS-1", "A-1", 5), "K-2": _cable("A-1", "A-2", 5), "K-3": _cable("A-2", "A-3", 5)},
    )
    found = Figures(site_of(data)).power.supplies["PS-1"]
    assert found.peak_a == pytest.approx(2.02)
    assert found.peak_event == "the fire command comes"
