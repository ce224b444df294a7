"""Whole generated sites against ngspice and a whole matrix: every voltage in every event, the lowest of each against the program's."""

import subprocess

import networkx as nx
import pytest
from nodal import solved
from plans import drawn, fields, moving_a, site_of
from sites import site_data

from zonecfg.figures import Figures

OHM_PER_KM = {(2.5, 5): 7.98, (4, 5): 4.95}
"""IEC 60228, one conductor at 20 °C."""
SITES = [(24, 1), (60, 2), (97, 3)]


def loop_ohm(data, cable):
    kind = fields(data, "cables", cable)
    per_km = OHM_PER_KM[kind["conductor_mm2"], kind["conductor_class"]]
    return 2 * kind["length_m"] / 1000 * per_km * (1 + 0.00393 * (kind["conductor_c"] - 20))


def wiring(data):
    graph = nx.Graph()
    for cable, ends in data["cables"].items():
        if "power" in ends["carries"]:
            graph.add_edge(ends["from"], ends["to"], ohm=loop_ohm(data, cable))
    return graph


def netlist(data, cases, graph):
    """Every event side by side, each a circuit of its own with all supplies at 24 V."""
    lines = ["one site, every event"]
    for case, (_, loads) in enumerate(cases):
        lines += [f"V{case}_{supply} n{case}_{supply} 0 24" for supply in data["supplies"]]
        lines += [
            f"R{case}_{number} n{case}_{one} n{case}_{other} {ohm!r}"
            for number, (one, other, ohm) in enumerate(graph.edges(data="ohm"))
        ]
        lines += [f"I{case}_{thing} n{case}_{thing} 0 {amp!r}" for thing, amp in loads.items()]
    lines += [".control", "set filetype=ascii", "op", "write site.raw", "quit 0", ".endc", ".end", ""]
    return "\n".join(lines)


def spice(folder, text):
    (folder / "site.cir").write_text(text, "ascii")
    subprocess.run(["ngspice", "-b", "site.cir"], cwd=folder, check=True, capture_output=True, timeout=120)
    head, values = (folder / "site.raw").read_text("ascii").split("Values:")
    names = [row.split()[1] for row in head.split("Variables:\n")[1].splitlines()]
    return dict(zip(names, map(float, values.split()[1:]), strict=True))


def by_matrix(data, cases, graph):
    """The same, each event solved as one matrix."""
    branches = {number: (one, other, ohm) for number, (one, other, ohm) in enumerate(graph.edges(data="ohm"))}
    read = {}
    for case, (_, loads) in enumerate(cases):
        volts, amps = solved(branches, loads, dict.fromkeys(data["supplies"], 24.0))
        read |= {f"v(n{case}_{node.lower()})": volt for node, volt in volts.items()}
        for supply in data["supplies"]:
            fed = sum(
                amps[n] if one == supply else -amps[n]
                for n, (one, other, _) in branches.items()
                if supply in (one, other)
            )
            read[f"i(v{case}_{supply.lower()})"] = -(fed + loads.get(supply, 0))
    return read


@pytest.mark.parametrize("oracle", [pytest.param("ngspice", marks=pytest.mark.needs("ngspice")), "matrix"])
@pytest.mark.parametrize(("actuators", "seed"), SITES)
def test_lowest_voltage_of_every_actuator(tmp_path, actuators, seed, oracle):
    """To a tenth of a millivolt; the movers that are worst for each are told by a plain reading in the tests."""
    data = site_data(actuators, seed=seed)
    home = {member: group["controller"] for group in data["groups"].values() for member in group["actuators"]}
    for actuator, own in data["actuators"].items():
        own["controller"] = home[actuator]
    graph = wiring(data)
    power = Figures(site_of(data)).power
    chosen = sorted(data["actuators"])[:: max(1, len(data["actuators"]) // 12)]
    cases = [(f"worst for {a}", drawn(data, worst_for(data, graph, a))) for a in chosen]
    cases += [(f"worst for {s}", drawn(data, worst_for(data, graph, None, s))) for s in data["supplies"]]
    ngspice = oracle == "ngspice"
    read = spice(tmp_path, netlist(data, cases, graph)) if ngspice else by_matrix(data, cases, graph)
    for case, actuator in enumerate(chosen):
        assert power.voltage(actuator).volt == pytest.approx(read[f"v(n{case}_{actuator.lower()})"], abs=1e-4)
    for case, supply in enumerate(data["supplies"], len(chosen)):
        assert power.supplies[supply].peak_a == pytest.approx(-read[f"i(v{case}_{supply.lower()})"], rel=1e-6)


def worst_for(data, graph, actuator, supply=None):
    """Give the movers that make a place worst: of each controller its sashes that lose most on the way they share.

    In a tree the drop that a load makes elsewhere is its current times the resistance of the way both have in common.
    """
    supplies = [s for s in data["supplies"] if nx.has_path(graph, s, actuator)] if actuator else [supply]
    (source,) = supplies
    fed = nx.node_connected_component(graph, source)
    way = set(nx.utils.pairwise(nx.shortest_path(graph, source, actuator))) if actuator else set()
    moving = set()
    for controller in data["controllers"]:
        sashes = {}
        for name, own in data["actuators"].items():
            if own["controller"] == controller and name in fed:
                extra = moving_a(data, name) - fields(data, "actuators", name)["idle_a"]
                shared = nx.utils.pairwise(nx.shortest_path(graph, source, name))
                ohm = sum(graph.edges[step]["ohm"] for step in shared if step in way) if actuator else 1.0
                sashes.setdefault(own["opening"], [0.0, []])
                sashes[own["opening"]][0] += extra * ohm
                sashes[own["opening"]][1].append(name)
        most = fields(data, "controllers", controller).get("moves_at_once", len(sashes))
        for _, members in sorted(sashes.values(), reverse=True)[:most]:
            moving.update(members)
    return frozenset(moving)
