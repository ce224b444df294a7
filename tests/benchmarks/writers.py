"""Values put back into texts that people wrote: our own writer beside ruamel.yaml's round trip.

Run by hand: ``python tests/benchmarks/writers.py``. Each writer gets the cases of ``tests/document/test_writer.py``, then
60 values of a record in each of the example buildings, then 1,000 actuators. A line counts as changed where it is not in
the old text, or is no longer in the new one, and no value on it was meant.
"""

import difflib
import io
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "document"))

from ruamel.yaml import YAML
from sites import site_text
from test_writer import test_by_hand as by_hand

from zonecfg.document.reader import read
from zonecfg.document.rewrite import rewritten
from zonecfg.document.values import with_values
from zonecfg.model.grammar import grammar
from zonecfg.results.pointer import split

ROOT = Path(__file__).parents[2]
Writer = Callable[[str, dict[str, Any]], str]


def ours(text: str, values: dict[str, Any]) -> str:
    """Set values by our own writer."""
    document = read(text.encode(), "x.yaml", grammar().as_written)
    return rewritten(document, with_values(document, values, {}), as_text=grammar().as_written)[0]


def round_trip(text: str, values: dict[str, Any]) -> str:
    """Set values in what ruamel.yaml keeps of a text, and dump it."""
    yaml = YAML()
    yaml.preserve_quotes = True
    yaml.width = 1000
    data = yaml.load(text)
    for pointer, value in values.items():
        *above, last = split(pointer)
        inner = data
        for step in above:
            if inner.get(step) is None:
                inner[step] = {}
            inner = inner[step]
        inner[last] = value
    out = io.StringIO()
    yaml.dump(data, out)
    return out.getvalue()


def edits(text: str, count: int) -> dict[str, Any]:
    """Give values to set: a measured stroke, a test and a date of one actuator after the other."""
    data = read(text.encode(), "x.yaml", grammar().as_written).data
    found: dict[str, Any] = {}
    for actuator in data["actuators"]:
        found[f"/record/actuators/{actuator}/measured_stroke_mm"] = 297
        found[f"/record/actuators/{actuator}/walk_test"] = "pass"
        found[f"/record/actuators/{actuator}/by"] = "fitter"
    return dict(list(found.items())[:count])


def stray_lines(old: str, new: str) -> int:
    """Count lines of the old text that are gone though nothing on them was meant."""
    gone = [line for line in difflib.ndiff(old.splitlines(), new.splitlines()) if line.startswith("- ")]
    return sum(1 for line in gone if not any(word in line for word in ("measured_stroke", "walk_test", "by:", "{")))


def main() -> None:
    """Print the table."""
    cases = by_hand.pytestmark[0].args[1]
    buildings = sorted(ROOT.glob("examples/*/as-commissioned.yaml"))
    large = site_text(1_000, state="as-commissioned")
    for name, writer in (("ours", ours), ("ruamel.yaml", round_trip)):
        same = 0
        for text, values, after in cases:
            try:
                same += writer(text, values) == after
            except Exception as error:
                print(f"{name}: {type(error).__name__} at {text!r}")
        strays = 0
        for path in buildings:
            text = path.read_bytes().decode()
            strays += stray_lines(text, writer(text, edits(text, 60)))
        times = []
        for _ in range(3):
            start = time.perf_counter()
            writer(large, edits(large, 3_000))
            times.append(time.perf_counter() - start)
        print(
            f"{name}: {same} of {len(cases)} cases to the byte, {strays} lines touched without need by 60 values in "
            f"{len(buildings)} buildings, {statistics.median(times):.2f} s for 3,000 values in 1,000 actuators"
        )


if __name__ == "__main__":
    main()
