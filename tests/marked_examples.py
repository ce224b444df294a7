"""The examples under ``examples/checks/``: which there are, and what each says is to be found in it.

A guilty line carries ``# expect: <check>`` at its end, several checks apart by commas, one doubled where it finds two
faults there; ``# accepted: <check>`` is a finding that the plan accepts. Where a line can hold no comment, the head of
the file says ``# expect at LINE: <check>``. A catalogue beside the example counts where the example names it.
"""

import re
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).parent.parent / "examples" / "checks"
_BEHIND = re.compile(r"# (expect|accepted): ([a-z0-9-]+(?:, [a-z0-9-]+)*)\s*$")
_AHEAD = re.compile(r"# expect at (\d+): ([a-z0-9-]+(?:, [a-z0-9-]+)*)\s*$")

Mark = tuple[str, int, str, str]
"""File name, line, ``expect`` or ``accepted``, check."""


def cases() -> list[Path]:
    """List every example, in order."""
    return sorted(path for pattern in ("good*.yaml", "bad*.yaml") for path in ROOT.glob(f"*/{pattern}"))


def marks(case: Path) -> Counter[Mark]:
    """Read what an example, with the catalogues it names, says is to be found."""
    beside = [path for path in case.parent.glob("*.yaml") if path not in cases_of(case.parent)]
    text = case.read_text("utf-8")
    named = [
        path for path in beside if re.search(rf"^(?:  - |catalogue: \[){re.escape(path.name)}", text, re.MULTILINE)
    ]
    return Counter(mark for path in (case, *named) for mark in _marks_of(path))


def cases_of(folder: Path) -> set[Path]:
    """Give the examples of one folder; what else lies there they use."""
    return {*folder.glob("good*.yaml"), *folder.glob("bad*.yaml")}


def _marks_of(path: Path) -> list[Mark]:
    found = []
    for number, line in enumerate(path.read_text("utf-8").split("\n"), start=1):
        if match := _BEHIND.search(line):
            found += [(path.name, number, match[1], check) for check in match[2].split(", ")]
        elif match := _AHEAD.match(line):
            found += [(path.name, int(match[1]), "expect", check) for check in match[2].split(", ")]
    return found
