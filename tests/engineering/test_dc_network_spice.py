"""The network solver against ngspice and against a whole matrix, which know nothing of it."""

import random
import subprocess

import pytest
from nodal import solved

from zonecfg.engineering.dc_network import Tree, network

CASES = 240
SOURCE_V = 24.0


def generated(seed):
    """One random network of 2 to 30 nodes: every other one a tree; some cables have no length."""
    rng = random.Random(seed)
    size = rng.randrange(2, 31)
    window = rng.choice([1, 3, 30])  # a daisy chain, a bushy line, a star of stars
    cables = [
        (
            rng.randrange(max(0, i - window), i),
            i,
            rng.choice([0.0, *(10 ** rng.uniform(-3, 1) for _ in range(5))]),
        )
        for i in range(1, size)
    ]
    if seed % 2 and size > 2:
        more = range(rng.randrange(1, 8))
        cables += [(*rng.sample(range(size), 2), 10 ** rng.uniform(-3, 1)) for _ in more]
    rng.shuffle(cables)
    loads = {i: round(rng.uniform(0.01, 2), 3) for i in range(size) if rng.random() < 0.7}
    return cables, loads


def netlist(raw):
    """All networks side by side; a source of 0 V in each cable is its ammeter."""
    lines = ["generated networks"]
    for case in range(CASES):
        cables, loads = generated(case)
        lines.append(f"V{case} n{case}_0 0 {SOURCE_V}")
        for number, (a, b, ohm) in enumerate(cables):
            middle = f"m{case}_{number}" if ohm else f"n{case}_{b}"
            lines.append(f"Va{case}_{number} n{case}_{a} {middle} 0")
            if ohm:
                lines.append(f"R{case}_{number} {middle} n{case}_{b} {ohm!r}")
        lines += [f"I{case}_{node} n{case}_{node} 0 {amp!r}" for node, amp in loads.items()]
    lines += [".control", "set filetype=ascii", "op", f"write {raw}", "quit 0", ".endc", ".end", ""]
    return "\n".join(lines)


def by_matrix():
    """The same, each network solved as one matrix."""
    read = {}
    for case in range(CASES):
        cables, loads = generated(case)
        volts, amps = solved(dict(enumerate(cables)), loads, {0: SOURCE_V})
        read |= {f"v(n{case}_{node})": volt for node, volt in volts.items()}
        read |= {f"i(va{case}_{number})": amp for number, amp in amps.items()}
    return read


@pytest.fixture(scope="module")
def spice(tmp_path_factory):
    """Every voltage and current ngspice finds, by its name."""
    folder = tmp_path_factory.mktemp("spice")
    deck, raw = folder / "networks.cir", folder / "networks.raw"
    deck.write_text(netlist("networks.raw"), encoding="ascii")
    subprocess.run(["ngspice", "-b", deck.name], cwd=folder, check=True, capture_output=True, timeout=60)
    head, values = raw.read_text(encoding="ascii").split("Values:")
    names = [line.split()[1] for line in head.split("Variables:\n")[1].splitlines()]
    return dict(zip(names, map(float, values.split()[1:]), strict=True))


@pytest.mark.needs("ngspice")
@pytest.mark.parametrize("kind", ["tree", "mesh"])
def test_voltages_and_currents_of_ngspice(spice, kind):
    """ngspice, operating point of 240 generated networks, to 1e-6 of each drop and current."""
    same_as(spice, kind)


@pytest.mark.parametrize("kind", ["tree", "mesh"])
def test_voltages_and_currents_of_a_matrix(kind):
    """Modified nodal analysis of the same networks."""
    same_as(by_matrix(), kind)


def same_as(spice, kind):
    compared = 0
    for case in range(CASES):
        cables, loads = generated(case)
        built = network(cables, 0)
        if (kind == "tree") != isinstance(built, Tree):
            continue
        volts = built.voltages(loads, SOURCE_V)
        for node, volt in volts.items():
            expected = spice[f"v(n{case}_{node})"]
            assert volt == pytest.approx(expected, rel=1e-6, abs=1e-9), (case, node)
            assert SOURCE_V - volt == pytest.approx(SOURCE_V - expected, rel=1e-6, abs=1e-9), (case, node)
        for number, amp in enumerate(built.currents(loads)):
            expected = spice[f"i(va{case}_{number})"]
            assert amp == pytest.approx(expected, rel=1e-6, abs=1e-6), (case, number)
        compared += 1
    assert compared >= 100
