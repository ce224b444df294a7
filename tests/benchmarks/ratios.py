"""Whole processes on generated sites against what a user would pick instead: ratios of one run on one machine.

Run by hand: ``python tests/benchmarks/ratios.py [--most 10000] [--rounds 5]``.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from sites import commissioned_text, site_text

from zonecfg.schema import folder

SIZES = (60, 1_000, 10_000, 50_000)
ZONECFG = [sys.executable, "-m", "zonecfg"]
SCHEMA_CHECKER = [sys.executable, "-m", "check_jsonschema", "--schemafile", str(folder() / "site.schema.json")]


def measured(command: list[str], rounds: int) -> tuple[float, float, float]:
    """Median wall [s], its spread [s], and peak memory [MB] of a command."""
    walls, peak = [], 0.0
    for _ in range(rounds):
        begun = time.perf_counter()
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        _, _, usage = os.wait4(child.pid, 0)
        walls.append(time.perf_counter() - begun)
        child.returncode = 0
        peak = max(peak, usage.ru_maxrss / 1024)
    return statistics.median(walls), max(walls) - min(walls), peak


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--most", type=int, default=10_000, help="largest site, in actuators")
    parser.add_argument("--rounds", type=int, default=5)
    asked = parser.parse_args()
    bare, _, bare_mb = measured([sys.executable, "-c", "pass"], 15)
    help_s, spread, _ = measured([*ZONECFG, "--help"], 15)
    print(
        f"bare interpreter {bare * 1e3:.0f} ms; --help {(help_s - bare) * 1e3:.0f} ms more (spread {spread * 1e3:.0f})"
    )
    print(f"{'actuators':>9} {'check':>9} {'spread':>7} {'of schema':>9} {'memory':>8} {'compare':>8} {'growth':>7}")
    before = None
    with tempfile.TemporaryDirectory() as name:
        for size in (size for size in SIZES if size <= asked.most):
            design, built = Path(name, f"{size}.yaml"), Path(name, f"{size}-built.yaml")
            design.write_text(site_text(size), "utf-8")
            built.write_text(commissioned_text(size), "utf-8")
            check, spread, peak = measured([*ZONECFG, "check", str(design)], asked.rounds)
            other, _, _ = measured([*SCHEMA_CHECKER, str(design)], 3 if size < 5_000 else 1)
            compare, _, _ = measured([*ZONECFG, "compare", str(design), str(built)], asked.rounds)
            growth = f"{check / before:.2f}" if before else ""
            print(
                f"{size:>9,} {check * 1e3:>6.0f} ms {spread * 1e3:>7.0f} {check / other:>9.3f} "
                f"{peak - bare_mb:>5.0f} MB {compare / check:>8.2f} {growth:>7}",
                flush=True,
            )
            before = check


if __name__ == "__main__":
    main()
