"""How a bus runs: ends, stubs and branches of drawn buses, against how they were drawn and against networkx."""

import itertools

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st
from plans import line, plan, site_of

from zonecfg.figures import Figures
from zonecfg.results.finding import Unknown


def _cable(one, other, length, **more):
    return {"from": one, "to": other, "length_m": length, "type": "pair", "carries": ["bus"], **more}


@st.composite
def lines(draw):
    """A line through actuators and one controller, a resistor at both ends, stubs beside it, cables in any order."""
    count = draw(st.integers(2, 12))
    nodes = [f"A-{n}" for n in range(1, count)]
    nodes.insert(draw(st.integers(0, count - 1)), "C-1")
    lengths = st.sampled_from([0.5, 1.5, 2, 9, 60])
    cables = [_cable(*draw(st.permutations(pair)), draw(lengths)) for pair in itertools.pairwise(nodes)]
    stubs = {}
    for number, node in enumerate(nodes[1:-1]):
        for part in range(draw(st.integers(0, 2))):
            stubs[f"S-{number}-{part}"] = length = draw(st.sampled_from([0, 1, 1.5, 1.6, 30]))
            cables.append(_cable(node, f"S-{number}-{part}", length))
    devices = [node for node in (*nodes, *stubs) if node != "C-1"]
    data = plan(
        controllers={"C-1": {"type": "hall"}},
        actuators={device: {"type": "chain", "opening": "W-1"} for device in devices},
        cables={f"K-{n}": cable for n, cable in enumerate(draw(st.permutations(cables)))},
        terminators=[nodes[0], nodes[-1]],
    )
    return data, (nodes[0], nodes[-1]), stubs


@given(lines())
def test_ends_and_stubs(drawn):
    data, ends, stubs = drawn
    (bus,) = Figures(site_of(data)).buses.all
    assert {thing for thing, _ in bus.ends} == set(ends)
    assert {stub.device for stub in bus.line.stubs} == {s for s, length in stubs.items() if length <= 1.5}
    assert {stub.device for stub in bus.line.long_stubs} == {s for s, length in stubs.items() if length > 1.5}
    graph = nx.Graph((cable["from"], cable["to"]) for cable in data["cables"].values())
    graph.remove_nodes_from(stubs)
    assert {node for node, degree in graph.degree() if degree == 1} == set(ends)
    assert nx.is_connected(graph)
    assert not bus.line.branches


@given(lines(), st.data())
def test_a_third_line_is_a_branch(drawn, data):
    """Two more devices in a row on a node in mid-line: three cables there lead on."""
    plan_, ends, stubs = drawn
    for cable in plan_["cables"].values():
        if not {cable["from"], cable["to"]} & set(stubs):
            cable["length_m"] = 9  # the line's own ends are no stubs
    graph = nx.Graph((cable["from"], cable["to"]) for cable in plan_["cables"].values())
    inner = [node for node in nx.shortest_path(graph, *ends) if node not in ends]
    if not inner:
        return
    node = data.draw(st.sampled_from(inner))
    plan_["actuators"] |= {name: {"type": "chain", "opening": "W-1"} for name in ("B-1", "B-2")}
    plan_["cables"] |= {"KB-1": _cable(node, "B-1", 1), "KB-2": _cable("B-1", "B-2", 1)}
    (bus,) = Figures(site_of(plan_)).buses.all
    assert [thing for thing, _ in bus.line.branches] == [node]
    assert isinstance(bus.ends, Unknown)


@given(lines())
def test_length_and_loads_are_sums(drawn):
    data, _, _ = drawn
    figures = Figures(site_of(data))
    printed = figures.printed.controllers["C-1"]
    assert printed.bus_length_m == pytest.approx(sum(cable["length_m"] for cable in data["cables"].values()))
    on_it = {end for cable in data["cables"].values() for end in (cable["from"], cable["to"])}
    assert printed.bus_unit_loads == pytest.approx(1 + 0.25 * (len(on_it) - 1))


@given(lines())
def test_resistance_at_the_controller(drawn):
    """Two resistors of 120 Ω, each behind its part of the line, in parallel; 2.5 mm² of class 5 at 40 °C."""
    data, ends, _ = drawn
    (bus,) = Figures(site_of(data)).buses.all
    graph = nx.Graph()
    for cable in data["cables"].values():
        graph.add_edge(cable["from"], cable["to"], ohm=cable["length_m"] * 2 * 7.98e-3 * (1 + 0.00393 * 20))
    one, other = (120 + nx.dijkstra_path_length(graph, "C-1", end, weight="ohm") for end in ends)
    assert bus.expected_ohm == pytest.approx(one * other / (one + other))


def test_lines_of_a_controller_are_buses_apart():
    """Of two lines the longer and the fuller are printed, whichever they are."""
    data = plan(
        controllers={"C-1": {"type": "hall"}},
        actuators={a: {"type": "chain", "opening": "W-1"} for a in ("A-1", "A-2", "A-3")},
        cables={
            "K-1": _cable("C-1", "A-1", 90),
            "K-2": _cable("C-1", "A-2", 10, line="2"),
            "K-3": _cable("A-2", "A-3", 10, line="2"),
        },
    )
    figures = Figures(site_of(data))
    first, second = figures.buses.all
    assert (first.about, second.about) == ("controllers/C-1", "controllers/C-1/2")
    assert (first.length_m, second.length_m) == (90, 20)
    printed = figures.printed.controllers["C-1"]
    assert (printed.bus_length_m, printed.bus_unit_loads) == (90, pytest.approx(1.5))


def test_a_star_of_short_cables_is_a_line_with_stubs():
    """Three devices within stub_m of a box: a resistor tells which two are the ends."""
    nodes = {"controllers": {"C-1": {"type": "hall"}}, "junctions": {"J-1": {}}}
    actuators = {a: {"type": "chain", "opening": "W-1"} for a in ("A-1", "A-2")}
    cables = {"K-1": _cable("J-1", "C-1", 1), "K-2": _cable("J-1", "A-1", 1), "K-3": _cable("J-1", "A-2", 1.5)}
    for terminated, expected in ((["A-1"], {"C-1", "A-1"}), (["A-2"], {"C-1", "A-2"}), ([], {"C-1", "A-2"})):
        data = plan(**nodes, actuators=actuators, cables=cables, terminators=terminated)
        (bus,) = Figures(site_of(data)).buses.all
        assert {thing for thing, _ in bus.ends} == expected


def test_a_short_last_cable_may_be_the_stub():
    """The resistor one short cable before the last device: that device then is a stub, and no end of the bus."""
    data = plan(
        controllers={"C-1": {"type": "hall"}},
        actuators={a: {"type": "chain", "opening": "W-1"} for a in ("A-1", "A-2")},
        cables=line("C-1", "A-1") | {"K-9": _cable("A-1", "A-2", 1.5)},
        terminators=["C-1", "A-1"],
    )
    (bus,) = Figures(site_of(data)).buses.all
    assert {thing for thing, _ in bus.ends} == {"C-1", "A-1"}
    data["cables"]["K-9"]["length_m"] = 1.6
    (bus,) = Figures(site_of(data)).buses.all
    assert {thing for thing, _ in bus.ends} == {"C-1", "A-2"}
