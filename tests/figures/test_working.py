"""What a working says: every line, worked out again from its numbers alone, gives its result; the last is the figure.

The oracle is Python's own arithmetic over the text that people read.
"""

from __future__ import annotations

import math
import random
import subprocess
import sys
from pathlib import Path

import pytest
from sites import site_data

from zonecfg.errors import UnknownName
from zonecfg.figures import Figures
from zonecfg.figures.working import working
from zonecfg.model.build import build
from zonecfg.workflow.figures import figures

ROOT = Path(__file__).parent.parent.parent
HALL = ROOT / "examples" / "larkenby-hall" / "as-commissioned.yaml"
PLAIN_WORDS = {
    "asin": lambda x: math.degrees(math.asin(x)),
    "sin": lambda x: math.sin(math.radians(x)),
    "root": math.sqrt,
    "min": min,
}


def worked_out(numbers: str) -> float:
    text = numbers.replace("·", "*").replace("²", "**2").replace("10⁶", "1e6").replace("√", "root")
    return eval(text, {"__builtins__": {}}, PLAIN_WORDS)  # noqa: S307  (numbers of our own)


def holds(line) -> bool:
    return not line.numbers or math.isclose(worked_out(line.numbers), line.result, rel_tol=2e-4, abs_tol=2e-4)


def generated(seed: int) -> Figures:
    data = site_data(24, seed=seed)
    return Figures(build(data, data["types"]))


@pytest.mark.parametrize("seed", range(4))
def test_every_line_holds_and_the_last_is_the_figure(seed):
    known = generated(seed)
    chance, site = random.Random(seed), known.site
    for section in ("openings", "actuators", "rooms", "cables", "supplies"):
        things = getattr(site, section)
        for thing in chance.sample(sorted(things), min(8, len(things))):
            lines = working(known, f"{section}/{thing}")
            assert [line for line in lines if not holds(line)] == []
    for thing in site.openings:
        lines = {line.what: line.result for line in working(known, f"openings/{thing}")}
        printed = known.printed.openings[thing]
        if printed.gap_mm is not None:
            assert lines["gap at the moving edge"] == pytest.approx(printed.gap_mm, rel=1e-4)
            assert lines["free area"] == pytest.approx(printed.free_area_m2, rel=1e-4)
        if printed.force_per_actuator_n is not None:
            each = max(lines["opening, each actuator"], lines["closing, each actuator"], 0.0)
            assert each == pytest.approx(printed.force_per_actuator_n, rel=1e-4, abs=1e-3)
    for thing in site.actuators:
        lines = {line.what: line.result for line in working(known, f"actuators/{thing}")}
        if (volt := known.printed.actuators[thing].voltage_at_peak_v) is not None:
            assert lines["voltage that is left"] == pytest.approx(volt, abs=2e-3)
    for thing in site.supplies:
        found = [line.result for line in working(known, f"supplies/{thing}") if line.what.startswith("largest current")]
        assert found == pytest.approx([known.printed.supplies[thing].peak_a], rel=1e-4)


def test_of_the_example_every_thing_is_worked_out():
    names = [
        f"{section}/{thing}"
        for section, things in (("openings", figures(HALL).figures.openings), ("rooms", figures(HALL).figures.rooms))
        for thing in things
    ]
    page = figures(HALL, names)
    told = page.figures.working
    assert isinstance(told, dict)
    assert list(told) == names
    assert [line for lines in told.values() for line in lines if not holds(line)] == []
    assert all(line.source or line.result is None for lines in told.values() for line in lines)


@pytest.mark.parametrize("name", ["openings/W-999", "types/x", "", "/", "groups/library"])
def test_what_is_not_there_is_refused(name):
    with pytest.raises(UnknownName):
        working(generated(0), name)


def test_at_the_command_line(tmp_path):
    """The last line of a window's working, as a person reads it."""
    done = subprocess.run(
        [sys.executable, "-m", "zonecfg", "figures", HALL, "--working", "openings/W-104"],
        capture_output=True, text=True, check=True, cwd=tmp_path, encoding="utf-8",
    )  # fmt: skip
    assert "2 · asin(300 / (2 · 1000)) = 17.2539 °" in " ".join(done.stdout.split())
