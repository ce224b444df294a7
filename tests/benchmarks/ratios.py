"""Whole processes on generated sites against what a user would pick instead: ratios of one run on one machine.

Run by hand: ``python tests/benchmarks/ratios.py [--most 50000] [--rounds 5] [--only check compare]``. Everything runs
from compiled byte code, as an installed package does, after one run that does not count. A command that would take
longer than ``--patience`` seconds, by how it grew so far, is left out. Needs ``pip install yamllint`` for its row.
"""

import argparse
import math
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parents[1]))

from sites import as_yaml, commissioned_text, site_data, site_text

from zonecfg.schema import folder

SIZES = (60, 1_000, 10_000, 50_000)
EVENTS = """import sys
from yaml._yaml import CParser
get_event = CParser(open(sys.argv[1], "rb").read()).get_event
while get_event() is not None: pass"""
CSAFE = "import sys, yaml; yaml.load(open(sys.argv[1], 'rb'), yaml.CSafeLoader)"
OWN_READ = """import sys
from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar
read(open(sys.argv[1], "rb").read(), "", grammar().as_written)"""
BOTH = "import sys, yaml; a, b = (yaml.load(open(p, 'rb'), yaml.CSafeLoader) for p in sys.argv[1:3])"
DEEPDIFF = f"{BOTH}; from deepdiff import DeepDiff; DeepDiff(a, b, ignore_order=True)"
JSONPATCH = f"{BOTH}; import jsonpatch; jsonpatch.make_patch(a, b)"


class Cost(NamedTuple):
    """What a command takes: median wall [s], its spread [s], median CPU [s], peak memory [MB]."""

    wall: float
    spread: float
    cpu: float
    peak: float


class Command(NamedTuple):
    """A command to measure, and the one of ours it is set against."""

    name: str
    words: list[str]
    against: str | None = None


def cost(words: list[str], rounds: int, env: dict[str, str]) -> Cost:
    """Measure a command."""
    walls, cpus, peak = [], [], 0.0
    for _ in range(rounds + 1):
        begun = time.perf_counter()
        child = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=env)
        _, _, usage = os.wait4(child.pid, 0)
        walls.append(time.perf_counter() - begun)
        cpus.append(usage.ru_utime + usage.ru_stime)
        child.returncode = 0
        peak = max(peak, usage.ru_maxrss / 1024)
    del walls[0], cpus[0]
    return Cost(statistics.median(walls), max(walls) - min(walls), statistics.median(cpus), peak)


def site_folder(parent: Path, size: int) -> Path:
    """Write a site of both states and one saved copy."""
    site = parent / str(size)
    (site / "saved").mkdir(parents=True)
    (site / "as-designed.yaml").write_text(site_text(size), "utf-8")
    (site / "as-commissioned.yaml").write_text(commissioned_text(size), "utf-8")
    data = deepcopy(site_data(size))
    copy = {
        **{key: data[key] for key in ("format", "site", "groups", "links", "wet_weather") if key in data},
        "state": "saved",
        "actuators": {a: {"opening": fields["opening"]} for a, fields in data["actuators"].items()},
        "sensors": {sensor: {} for sensor in data["sensors"]},
        "saved": {"controllers": {controller: {} for controller in data["controllers"]}, "date": "2026-05-14"},
    }
    (site / "saved" / "2026-05-14.yaml").write_text(as_yaml(copy), "utf-8")
    return site


def commands(site: Path) -> Iterator[Command]:
    """Give ours first, then what each is set against."""
    python = sys.executable
    ours = [python, "-m", "zonecfg"]
    design, built = str(site / "as-designed.yaml"), str(site / "as-commissioned.yaml")
    yield Command("check", [*ours, "check", design])
    yield Command("compare", [*ours, "compare", design, built])
    yield Command("figures", [*ours, "figures", design])
    yield Command("review", [*ours, "review", str(site)])
    yield Command("rollback", [*ours, "rollback", built, "--to", str(site / "saved" / "2026-05-14.yaml")])
    yield Command("libyaml events", [python, "-c", EVENTS, design], "check")
    yield Command("own reading", [python, "-c", OWN_READ, design], "check")
    yield Command("CSafeLoader", [python, "-c", CSAFE, design], "check")
    schema = str(folder() / "site.schema.json")
    yield Command("check-jsonschema", [python, "-m", "check_jsonschema", "--schemafile", schema, design], "check")
    yield Command("yamllint", [python, "-m", "yamllint", "-d", "relaxed", design], "check")
    yield Command("load and DeepDiff", [python, "-c", DEEPDIFF, design, built], "compare")
    yield Command("load and jsonpatch", [python, "-c", JSONPATCH, design, built], "compare")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--most", type=int, default=10_000, help="largest site, in actuators")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--patience", type=float, default=120.0, help="longest run to wait for [s]")
    parser.add_argument("--only", nargs="*", default=[], help="commands to measure; all of them without")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        env = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
        env["PYTHONPYCACHEPREFIX"] = str(Path(name, "compiled"))
        bare = cost([sys.executable, "-c", "pass"], 15, env)
        help_ = cost([sys.executable, "-m", "zonecfg", "--help"], 15, env)
        extra, noise = (help_.wall - bare.wall) * 1e3, help_.spread * 1e3
        print(f"bare interpreter {bare.wall * 1e3:.0f} ms; zonecfg --help {extra:.0f} ms more (spread {noise:.0f} ms)")
        print(
            f"{'actuators':>9}  {'command':<18} {'wall':>9} {'spread':>7} {'CPU':>8} {'memory':>8} {'growth':>6}  ratio"
        )
        before: dict[str, tuple[int, float]] = {}
        for size in (size for size in SIZES if size <= asked.most):
            walls: dict[str, float] = {}
            for command in commands(site_folder(Path(name), size)):
                if asked.only and command.name not in asked.only:
                    continue
                small, took = before.get(command.name, (size, 0.0))
                if took * (size / small) ** 1.1 > asked.patience:
                    print(f"{size:>9,}  {command.name:<18} left out")
                    continue
                rounds = asked.rounds if took * size / small < 5 else 1
                measured = cost(command.words, rounds, env)
                walls[command.name] = measured.wall
                growth = f"{math.log(measured.wall / took) / math.log(size / small):.2f}" if took else ""
                ours = walls.get(command.against or "")
                ratio = f"{command.against} takes {ours / measured.wall:.3f} of it" if ours else ""
                if command.name != "check" and command.against is None and "check" in walls:
                    ratio = f"{measured.wall / walls['check']:.2f} times check"
                print(
                    f"{size:>9,}  {command.name:<18} {measured.wall * 1e3:>6.0f} ms {measured.spread * 1e3:>7.0f} "
                    f"{measured.cpu * 1e3:>5.0f} ms {measured.peak - bare.peak:>5.0f} MB {growth:>6}  {ratio}",
                    flush=True,
                )
                before[command.name] = (size, measured.wall)


if __name__ == "__main__":
    main()
