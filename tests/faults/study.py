"""The fault study: every check's fault, planted in random clean sites, has to be found where it is, and nothing else.

``python tests/faults/study.py --sites 200`` prints, for each check, how many faults were planted and found, how many
near misses were let pass, and what else was found with them.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

import fault_air  # noqa: F401  (each module registers its planters)
import fault_bus  # noqa: F401
import fault_falls  # noqa: F401
import fault_membership  # noqa: F401
import fault_power  # noqa: F401
import fault_reading  # noqa: F401
import fault_record  # noqa: F401
import fault_sash  # noqa: F401
import fault_stated  # noqa: F401
import fault_weather  # noqa: F401
from clean_sites import any_size, clean_site
from planting import NEAR_MISSES, PLANTERS, CannotPlant, Planted, Planter
from sites import as_yaml

from zonecfg.checks.registry import entries
from zonecfg.workflow.check import check

if TYPE_CHECKING:
    from collections.abc import Iterator

    from zonecfg.results.finding import Finding, Findings

TODAY = date(2026, 11, 1)
STATES = ("as-designed", "as-commissioned")
TRIES = 60
"""Sites drawn for one planting before it is given up: a variation that some fault needs may be rare."""

_EQUIPMENT = "format: zonecfg-catalogue/1\n\ntypes:\n  openings:\n    spare-900: {width_mm: 900, height_mm: 1000}\n"


@dataclass
class Tally:
    """What became of the faults of one check."""

    planted: int = 0
    found: int = 0
    near_misses: int = 0
    passed: int = 0
    others: Counter[str] = field(default_factory=Counter)
    complaints: list[str] = field(default_factory=list)


def study(check_id: str, sites: int, folder: Path, seed: int = 0) -> Tally:
    """Plant one check's fault in so many sites, and stay just short of it in as many."""
    tally = Tally()
    for number in range(sites):
        name = f"{check_id} {seed + number}"
        planted = case_of(_turn(PLANTERS[check_id], number), name, folder)
        tally.planted += 1
        complaints = judged(check_id, planted)
        tally.found += not complaints
        tally.others.update({f.check for f in planted.found_by.findings if f.accepted is None and f.check != check_id})
        tally.complaints += [f"{name} ({planted.how}): {complaint}" for complaint in complaints]
        if check_id in NEAR_MISSES:
            near = case_of(_turn(NEAR_MISSES[check_id], number), f"{name} near", folder)
            tally.near_misses += 1
            complaints = judged(check_id, near)
            tally.passed += not complaints
            tally.complaints += [f"{name} near ({near.how}): {complaint}" for complaint in complaints]
    return tally


@dataclass(frozen=True)
class Case:
    """A site with a fault in it, and what was found."""

    how: str
    expected: Planted
    text: str
    found_by: Findings


def _turn(planters: list[Planter], number: int) -> Planter:
    """Give each of a check's planters its turn."""
    return planters[number % len(planters)]


def case_of(planter: Planter, name: str, folder: Path) -> Case:
    """Draw sites until one has a place for the fault."""
    for attempt in range(TRIES):
        chance = random.Random(f"{name} {attempt}")
        state = planter.state or chance.choice((*STATES, "saved") if planter.in_text else STATES)
        data = clean_site(chance, any_size(chance), state)
        if "types" in data:
            data["types"]["openings"]["spare-900"] = {"width_mm": 900, "height_mm": 1000}
        try:
            if planter.in_text:
                lines = as_yaml(data).split("\n")
                while lines and not lines[-1]:
                    lines.pop()
                expected = planter.plant(lines, chance)  # type: ignore[arg-type]
                text = "\n".join(lines) + "\n"
            else:
                expected = planter.plant(data, chance)
                text = as_yaml(data)
        except CannotPlant:
            continue
        return Case(f"{planter.plant.__name__}, attempt {attempt}", expected, text, findings(text, folder))
    raise AssertionError(f"{name}: no site of {TRIES} has a place for {planter.plant.__name__}")


def clean_answers(sites: int, folder: Path, seed: int = 0) -> Iterator[tuple[str, int, Findings]]:
    """Check clean sites of all states, the first six as small and as large as they come: state, size, what was found."""
    for number in range(seed, seed + sites):
        chance = random.Random(f"clean {number}")
        state = (*STATES, "saved")[number % 3]
        size = (5, 300)[number // 3] if number < 6 else any_size(chance)
        yield state, size, findings(as_yaml(clean_site(chance, size, state)), folder)


def findings(text: str, folder: Path) -> Findings:
    """Check a text as a file, in a repository of its own with a catalogue beside it."""
    (folder / ".git").mkdir(exist_ok=True)
    (folder / "equipment.yaml").write_text(_EQUIPMENT, "utf-8")
    (folder / "site.yaml").write_text(text, "utf-8")
    answer = check([folder / "site.yaml"], TODAY).findings
    assert answer is not None
    return answer


def judged(check_id: str, case: Case) -> list[str]:
    """Say what is not as it has to be: a fault not found, found elsewhere, or something found that is none."""
    complaints = []
    open_ones = [f for f in case.found_by.findings if f.accepted is None]
    mine = [f for f in open_ones if f.check == check_id]
    for abouts, places in case.expected.found:
        there = [f for f in mine if f.about in abouts or (f.about.endswith("site.yaml") and "site.yaml" in abouts)]
        if len(there) != 1:
            complaints.append(f"{len(there)} findings about {sorted(abouts)[:3]}")
        complaints += [
            f"line {f.line} is not of {sorted(places)[:3]}: {f.message}" for f in there if not _on(f, places, case.text)
        ]
        mine = [f for f in mine if f not in there]
    besides = {*case.expected.also, "one-cause"}  # which says what several of them have in common
    others = [f for f in open_ones if f.check != check_id and f.check not in besides]
    told = Counter((f.check, f.about) for f in case.found_by.findings)
    complaints += [f"{check} about {about} is told {n} times" for (check, about), n in told.items() if n > 1]
    return complaints + [f"{f.check} about {f.about}: {f.message}" for f in (*mine, *others)]


def _on(found: Finding, places: frozenset[str], text: str) -> bool:
    return found.line is not None and any(found.line in lines_of(place, text) for place in places)


def lines_of(place: str, text: str) -> range:
    """Find the lines of a thing by the layout of the text, without the reader's own places."""
    if place.startswith("line "):
        number = int(place.removeprefix("line "))
        return range(number, number + 1)
    lines, start, end = text.split("\n"), 0, len(text.split("\n"))
    for depth, step in enumerate(place.split("/")):
        indent = "  " * depth
        key = re.compile(rf'{indent}"?{re.escape(step)}"?:')
        start = next((i for i in range(start, end) if key.match(lines[i])), end)
        end = next((i for i in range(start + 1, end) if not lines[i].startswith(f"{indent}  ")), end)
    return range(start + 1, end + 1)


def main(arguments: list[str] | None = None) -> int:
    """Print the table; the status is 1 where a fault was missed or something else was found."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("--sites", type=int, default=20, help="sites a check")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("checks", nargs="*", help="all where none is named")
    options = parser.parse_args(arguments)
    bad = 0
    print(f"{'check':32} planted  found  near misses  passed  others found")
    with tempfile.TemporaryDirectory() as folder:
        for check_id in options.checks or entries():
            tally = study(check_id, options.sites, Path(folder), options.seed)
            others = ", ".join(f"{name} {count}" for name, count in tally.others.most_common())
            print(
                f"{check_id:32} {tally.planted:7} {tally.found:6} {tally.near_misses:12} {tally.passed:7}  {others}".rstrip()
            )
            for complaint in tally.complaints[:5]:
                print(f"    {complaint}")
            bad += bool(tally.complaints)
        alarms = [f for _, _, a in clean_answers(options.sites, Path(folder), options.seed) for f in a.findings]
        alarms = [f for f in alarms if f.accepted is None]
        print(f"\nIn {options.sites} clean sites: {len(alarms)} findings.")
        bad += bool(alarms)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
