"""Who moves with whom, who covers whom, what hangs together: against networkx on drawn sites.

The graphs here are made of the plan's data, not of the program's own model, so that both roads from a file to an answer
are walked apart.
"""

import copy
from collections import Counter
from datetime import date
from typing import Any

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import edited, sites

from zonecfg.checks.runner import judge
from zonecfg.figures import Figures
from zonecfg.graph.cables import a_loop, between_ports, edges
from zonecfg.graph.topology import Topology
from zonecfg.model.build import build
from zonecfg.model.site import Site

DUTIES = ("power", "bus", "sync", "common", "contact")
NODES = ("controllers", "supplies", "actuators", "sensors", "junctions")
Data = dict[str, Any]


@st.composite
def wired(draw: Any) -> Data:
    """Draw a site, edited as people do, with up to twelve more cables between anything and anything."""
    data = copy.deepcopy(draw(st.one_of(sites(), sites().flatmap(edited))))
    nodes = [node for section in NODES for node in data.get(section, {})]
    for number in range(draw(st.integers(0, 12))):
        cable = {
            "from": draw(st.sampled_from(nodes)), "to": draw(st.sampled_from(nodes)), "length_m": 5, "type": "pair",
            "carries": draw(st.lists(st.sampled_from(DUTIES), min_size=1, max_size=3, unique=True)),
        }  # fmt: skip
        if draw(st.booleans()):
            cable["line"] = draw(st.sampled_from(["1", "2", "north"]))
        data.setdefault("cables", {})[f"KX-{number}"] = cable
    for section in ("actuators", "sensors"):
        for thing in data.get(section, {}).values():
            if draw(st.integers(0, 3)) == 0:
                thing.pop("controller", None)
    for group in data.get("groups", {}).values():
        if draw(st.integers(0, 4)) == 0:
            group["actuators"] = group["actuators"] + group["actuators"][:1]
    return data


def site_of(data: Data) -> Site:
    return build(data, data["types"])


def resolved(data: Data, section: str, thing: str) -> Data:
    fields = data[section][thing]
    return {**data["types"][section].get(fields.get("type"), {}), **fields}


def relations(data: Data) -> nx.DiGraph:
    """Sensor, group, actuator, opening, room: each a node by its section and id, pointing at what it acts on."""
    graph = nx.DiGraph()
    for section in ("sensors", "groups", "actuators", "openings", "rooms"):
        graph.add_nodes_from((section, thing) for thing in data.get(section, {}))
    for sensor, groups in data.get("links", {}).items():
        graph.add_edges_from((("sensors", sensor), ("groups", group)) for group in groups)
    for group, fields in data.get("groups", {}).items():
        graph.add_edges_from((("groups", group), ("actuators", member)) for member in fields["actuators"])
    for actuator, fields in data.get("actuators", {}).items():
        graph.add_edge(("actuators", actuator), ("openings", fields["opening"]))
    return graph


def cables(data: Data, duty: str) -> nx.MultiGraph:
    """Cables that carry a duty; on the bus, the lines of a controller are nodes apart."""
    graph = nx.MultiGraph()
    for cable, fields in data.get("cables", {}).items():
        if duty in fields["carries"]:
            ends = fields["from"], fields["to"]
            if duty == "bus":
                ends = [(end, fields.get("line", "1") if end in data["controllers"] else "") for end in ends]
            graph.add_edge(*ends, key=cable)
    return graph


@settings(max_examples=120)
@given(wired())
def test_who_moves_with_whom(data):
    site, graph = site_of(data), relations(data)
    for opening in data.get("openings", {}):
        assert set(site.actuators_of.get(opening, [])) == {a for _, a in graph.predecessors(("openings", opening))}
    for actuator in data.get("actuators", {}):
        holders = list(site.groups_of.get(actuator, []))
        assert set(holders) == {g for _, g in graph.predecessors(("actuators", actuator))}
        assert len(holders) == len(set(holders))
    for group in data.get("groups", {}):
        assert set(site.members_of[group]) == {a for _, a in graph.successors(("groups", group))}
        reached = nx.descendants(graph, ("groups", group))
        assert set(site.openings_of_group[group]) == {thing for section, thing in reached if section == "openings"}
        assert set(site.sensors_of.get(group, [])) == {s for _, s in graph.predecessors(("groups", group))}


@settings(max_examples=120)
@given(wired())
def test_what_a_sensor_reaches(data):
    """Counts of the sensor figures are the descendants of the sensor."""
    figures, graph = Figures(site_of(data)), relations(data)
    for sensor in data.get("sensors", {}):
        counts = Counter(section for section, _ in nx.descendants(graph, ("sensors", sensor)))
        assert figures.sensors[sensor].groups == counts["groups"]
        assert figures.sensors[sensor].actuators == counts["actuators"]


def lets_rain_in(data, opening, percent):
    """Open in the rain, fully or as a sash that does not cover its opening: only outward and top-hung in a wall does."""
    fields = resolved(data, "openings", opening)
    covers = (fields.get("hinge"), fields.get("opens")) == ("top-hung", "outward") and fields.get("pitch_deg", 90) >= 60
    return percent > 0 and not fields.get("sheltered") and (percent >= 100 or not covers)


@settings(max_examples=120)
@given(wired())
def test_membership_and_coverage_findings(data):
    """The findings of five checks, each as a question to the graph."""
    graph = relations(data)
    found = judge(Figures(site_of(data)), file=None, places=None, today=date(2026, 11, 25)).findings
    about = {}
    for finding in found:
        about.setdefault(finding.check, set()).add(finding.about)

    def told(check: str, section: str) -> set[str]:
        return {name.removeprefix(f"{section}/") for name in about.get(check, ())}

    things = {section: list(data.get(section, {})) for section in ("sensors", "groups", "actuators", "openings")}
    assert told("actuator-in-several-groups", "actuators") == {
        a for a in things["actuators"] if graph.in_degree(("actuators", a)) > 1
    }
    assert told("actuator-without-group", "actuators") == {
        a for a in things["actuators"] if graph.in_degree(("actuators", a)) == 0
    }
    assert told("opening-without-actuator", "openings") == {
        o for o in things["openings"] if graph.in_degree(("openings", o)) == 0
    }
    assert told("sensor-unlinked", "sensors") == {s for s in things["sensors"] if graph.out_degree(("sensors", s)) == 0}
    split = set()
    for opening in things["openings"]:
        homes = {frozenset(graph.predecessors(actuator)) for actuator in graph.predecessors(("openings", opening))}
        if len(homes) > 1:
            split.add(opening)
    assert told("sash-actuators-split", "openings") == split

    rain = {s for s in things["sensors"] if resolved(data, "sensors", s)["measures"] == "rain"}
    wet = set(data.get("wet_weather", {}))
    alone, bare = set(), set()
    for group in things["groups"]:
        watching = {s for _, s in graph.predecessors(("groups", group))} & rain
        moved = [o for section, o in nx.descendants(graph, ("groups", group)) if section == "openings"]
        percent = data.get("wet_weather", {}).get(group, {}).get("open_percent", 0)
        stays = [o for o in moved if lets_rain_in(data, o, percent)]
        if len(watching) == 1 and group in wet and not stays:
            alone |= watching
        exposed = {
            o for section, o in nx.descendants(graph, ("groups", group))
            if section == "openings" and not resolved(data, "openings", o).get("sheltered")
        }  # fmt: skip
        if (not watching and group not in wet and exposed) or (group in wet and stays):
            bare.add(group)
    assert told("single-sensor", "sensors") == alone
    assert told("group-without-rain-closing", "groups") == bare


@settings(max_examples=120)
@given(wired())
def test_pieces_of_cable(data):
    topology = Topology(site_of(data))
    for duty, pieces in (("bus", topology.buses), ("power", topology.power), ("sync", topology.synchronised)):
        graph = cables(data, duty)
        expected = {
            (frozenset(part), frozenset(key for _, _, key in graph.subgraph(part).edges(keys=True)))
            for part in nx.connected_components(graph)
        }
        assert {(frozenset(piece.nodes), frozenset(piece.cables)) for piece in pieces} == expected
        assert len(pieces) == len(expected)
        for piece in pieces:
            part = graph.subgraph(piece.nodes)
            assert piece.has_loop == (part.number_of_edges() > part.number_of_nodes() - 1)
            assert len(piece.nodes) == len(set(piece.nodes))


@settings(max_examples=120)
@given(wired())
def test_a_loop_is_one(data):
    """The cables named form a ring: connected, and two of them at every node; none where networkx finds a forest."""
    site = site_of(data)
    for duty in ("bus", "power"):
        graph, of = cables(data, duty), edges(site)[duty].values()
        loop = a_loop(between_ports(site, of) if duty == "bus" else of)
        if not loop:
            assert graph.number_of_edges() == 0 or nx.is_forest(graph)
            continue
        ring = graph.edge_subgraph([edge for edge in graph.edges(keys=True) if edge[2] in loop])
        assert nx.is_connected(ring)
        assert {degree for _, degree in ring.degree()} == {2}
        assert len(loop) == len(set(loop)) == ring.number_of_edges()


@settings(max_examples=120)
@given(wired())
def test_whose_actuator_and_whose_sensor(data):
    """The format's rule, step by step: its own; else the only one on its bus; else its groups'; else the only one."""
    topology, graph, bus = Topology(site_of(data)), relations(data), cables(data, "bus")
    controllers = set(data["controllers"])
    only = next(iter(controllers)) if len(controllers) == 1 else None

    def of_group(group: str) -> str | None:
        return data["groups"][group].get("controller", only)

    def expected(section: str, thing: str, groups: list[str]) -> str | None:
        if "controller" in data[section][thing]:
            return data[section][thing]["controller"]
        node = (thing, "")
        there = nx.node_connected_component(bus, node) if node in bus else set()
        commanding = {name for name, _ in there} & controllers
        if len(commanding) == 1:
            return commanding.pop()
        named = {name for group in groups if (name := of_group(group)) is not None}
        return named.pop() if len(named) == 1 else only

    for actuator in data.get("actuators", {}):
        groups = [g for _, g in graph.predecessors(("actuators", actuator))]
        assert topology.controller_of_actuator.get(actuator) == expected("actuators", actuator, groups)
    for sensor in data.get("sensors", {}):
        groups = [g for _, g in graph.successors(("sensors", sensor))]
        assert topology.controller_of_sensor.get(sensor) == expected("sensors", sensor, groups)
    for group in data.get("groups", {}):
        assert topology.controller_of_group.get(group) == of_group(group)


@settings(max_examples=80)
@given(wired())
def test_pairs_that_keep_step(data):
    """A sash of several actuators is unsynchronised where no sync cables join them all."""
    sync = cables(data, "sync")
    site = site_of(data)
    together = {thing: number for number, piece in enumerate(Topology(site).synchronised) for thing in piece.nodes}
    for actuators in site.actuators_of.values():
        if len(actuators) > 1:
            joined = all(a in sync and nx.has_path(sync, actuators[0], a) for a in actuators)
            assert (len({together.get(a, a) for a in actuators}) == 1) == joined
