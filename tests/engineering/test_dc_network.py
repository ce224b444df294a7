"""Voltages and currents of constant-current loads."""

import random
from collections import defaultdict

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.engineering.conductors import loop_resistance
from zonecfg.engineering.dc_mesh import Mesh
from zonecfg.engineering.dc_network import Tree, network

from .laws import LAW

ohms = st.one_of(st.just(0.0), st.floats(1e-4, 50))
amps = st.floats(0, 5)


@st.composite
def networks(draw, loops=True):
    """Draw a connected network of named nodes from n0, with loads."""
    size = draw(st.integers(2, 14))
    cables = [(f"n{draw(st.integers(0, i - 1))}", f"n{i}", draw(ohms)) for i in range(1, size)]
    if loops:
        ends = st.integers(0, size - 1)
        more = range(draw(st.integers(0, 6)))
        cables += [(f"n{draw(ends)}", f"n{draw(ends)}", draw(ohms)) for _ in more]
    cables = [(b, a, ohm) if draw(st.booleans()) else (a, b, ohm) for a, b, ohm in draw(st.permutations(cables))]
    return cables, {f"n{i}": draw(amps) for i in range(size) if draw(st.booleans())}


def solved(cables, loads, source, source_v):
    """Node to voltage, and the current of each cable."""
    built = network(cables, source)
    return built.voltages(loads, source_v), built.currents(loads)


def test_daisy_chain():
    """Exam text, two-wire distributor: 500 V, 0.02 ohm/km, 100 A at 2 km, 200 A at 4 km: 476 V, 460 V."""
    section = loop_resistance(2000, 0.02)
    cables = [("feed", "near", section), ("near", "far", section)]
    for build in (Tree, Mesh):
        volts = build(cables, "feed").voltages({"near": 100, "far": 200}, 500)
        assert volts["near"] == pytest.approx(476, abs=1e-9)
        assert volts["far"] == pytest.approx(460, abs=1e-9)
        assert build(cables, "feed").currents({"near": 100, "far": 200}) == pytest.approx([300, 200])


def test_ring_fed_at_one_point():
    """Two ways round, by hand: 1 and 3 ohm to a load of 4 A carry 3 and 1 A and lose 3 V."""
    volts, currents = solved([("s", "a", 1.0), ("b", "s", 2.0), ("a", "b", 1.0)], {"a": 4.0}, "s", 24.0)
    assert volts["a"] == pytest.approx(21)
    assert currents == pytest.approx([3, -1, -1])


@LAW
@given(networks())
def test_kirchhoff(case):
    """At every node what flows in is what flows on and what is drawn; every cable obeys Ohm."""
    cables, loads = case
    volts, currents = solved(cables, loads, "n0", 24.0)
    balance = defaultdict(float)
    for (a, b, ohm), amp in zip(cables, currents, strict=True):
        balance[a] -= amp
        balance[b] += amp
        assert volts[a] - volts[b] == pytest.approx(amp * ohm, abs=1e-9)
    for node in volts:
        if node != "n0":
            assert balance[node] == pytest.approx(loads.get(node, 0), abs=1e-8)
    assert volts["n0"] == 24
    assert -balance["n0"] + loads.get("n0", 0) == pytest.approx(sum(loads.values()), abs=1e-8)


@LAW
@given(networks(loops=False))
def test_a_tree_is_a_mesh_without_loops(case):
    cables, loads = case
    tree, mesh = Tree(cables, "n0"), Mesh(cables, "n0")
    assert isinstance(network(cables, "n0"), Tree)
    assert tree.voltages(loads, 24) == pytest.approx(mesh.voltages(loads, 24), abs=1e-9)
    assert tree.currents(loads) == pytest.approx(mesh.currents(loads), abs=1e-8)


def test_against_dense_linear_algebra():
    """Nodal equations of 60 larger networks, solved by numpy."""
    rng = random.Random(11)
    for _ in range(60):
        size = rng.randrange(20, 90)
        cables = [(rng.randrange(i), i, 10 ** rng.uniform(-4, 2)) for i in range(1, size)]
        cables += [(*rng.sample(range(size), 2), 10 ** rng.uniform(-4, 2)) for _ in range(size)]
        loads = {i: rng.random() for i in range(1, size)}
        matrix = np.zeros((size, size))
        for a, b, ohm in cables:
            matrix[[a, b], [a, b]] += 1 / ohm
            matrix[[a, b], [b, a]] -= 1 / ohm
        drops = np.linalg.solve(matrix[1:, 1:], [loads[i] for i in range(1, size)])
        found = Mesh(cables, 0).voltages(loads, 0.0)
        assert [-found[i] for i in range(1, size)] == pytest.approx(drops.tolist(), rel=1e-6)


def test_cables_of_no_length():
    """Joined nodes share a voltage; a loop of them shares the current as equal resistances would."""
    cables = [("s", "a", 0.0), ("a", "b", 1.0), ("b", "c", 0.0), ("c", "d", 0.0), ("d", "b", 0.0)]
    volts, currents = solved(cables, {"d": 3.0, "a": 1.0}, "s", 24.0)
    assert volts == {"s": 24, "a": 24, "b": 21, "c": 21, "d": 21}
    assert currents == pytest.approx([4, 3, 1, 1, -2])


def test_what_the_source_does_not_reach():
    cables = [("s", "a", 1.0), ("x", "y", 1.0), ("y", "z", 1.0), ("z", "x", 0.0), ("a", "a", 0.5)]
    for built in (network(cables, "s"), Mesh(cables, "s"), Tree(cables[:2], "s")):
        assert built.voltages({"a": 1.0, "x": 0.0}, 10) == {"s": 10, "a": 9}
        assert built.currents({"a": 1.0})[:2] == [1, 0]
        with pytest.raises(ValueError, match="x draws 2"):
            built.voltages({"x": 2.0}, 10)
    assert solved([], {}, "s", 24.0) == ({"s": 24}, [])


def test_a_resistance_to_the_source_against_networkx():
    """One ampere drawn at a node loses the resistance distance there: networkx, on a random graph."""
    graph = nx.gnm_random_graph(14, 30, seed=3)
    rng = random.Random(3)
    for _, _, data in graph.edges(data=True):
        data["ohm"] = rng.uniform(0.1, 9)
    fed = nx.node_connected_component(graph, 0)
    cables = [(a, b, ohm) for a, b, ohm in graph.edges(data="ohm")]
    expected = nx.resistance_distance(graph.subgraph(fed), 0, weight="ohm", invert_weight=True)
    built = network(cables, 0)
    assert {n: -built.voltages({n: 1.0}, 0.0)[n] for n in fed} == pytest.approx(expected)


def test_refused():
    for ohm in (-0.1, float("nan"), float("inf")):
        for build in (Tree, Mesh, network):
            with pytest.raises(ValueError, match="ohm"):
                build([("s", "a", ohm)], "s")
    with pytest.raises(ValueError, match=r"^cable a-s closes a loop$"):
        Tree([("s", "a", 1.0), ("a", "s", 1.0)], "s")


def test_a_long_chain_needs_no_deep_stack():
    """Sum of a series by hand: one load at the end of 30 000 cables."""
    cables = [(i, i + 1, 0.001) for i in range(30_000)]
    for build in (Tree, Mesh):
        assert build(cables, 0).voltages({30_000: 0.5}, 24.0)[30_000] == pytest.approx(9.0)
