"""The Python API: what it names is there, it imports nothing before it is asked, its types are known, its examples run."""

import doctest
import re
import subprocess
import sys
from pathlib import Path

import pytest

from zonecfg import api

ROOT = Path(__file__).parents[1]
CONSUMER = """\
from datetime import date
from pathlib import Path
from zonecfg.api import Comparison, Outcome, check, compare, explain, figures, identify, match, record, rehearse, review
from zonecfg.api import rollback, worksheet

outcome: Outcome = check([Path("a.yaml")], date(2026, 11, 25))
answer: Comparison = compare(Path("a.yaml"), Path("b.yaml"), date(2026, 11, 25))
line: int | None = outcome.findings.findings[0].line
kinds: list[str] = [change.kind for change in answer.changes.changes]
"""


@pytest.mark.parametrize("name", api.__all__)
def test_every_name_is_there_and_documented(name):
    value = getattr(api, name)
    assert value.__name__ == name
    assert (value.__doc__ or "").strip()


def test_a_name_that_is_none():
    with pytest.raises(AttributeError, match="has no nothing"):
        _ = api.nothing


def test_a_function_stays_a_function():
    """The packages have the same names; what the API gives is the function, whatever was imported meanwhile."""
    code = "import zonecfg.compare, zonecfg.rollback; from zonecfg.api import compare, rollback; print(callable(compare) and callable(rollback))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "True\n"


def test_importing_it_imports_nothing_else():
    code = "import sys, zonecfg.api; print(sorted(n for n in sys.modules if n.partition('.')[0] in {'zonecfg', 'msgspec', 'yaml', 'typer'}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "['zonecfg', 'zonecfg.api']\n"


def test_types_are_complete_for_who_uses_it(tmp_path):
    """Mypy --strict on a program that uses every function; py.typed tells it to look."""
    (tmp_path / "consumer.py").write_text(CONSUMER, "utf-8")
    command = [sys.executable, "-m", "mypy", "--strict", "--cache-dir", str(tmp_path / "cache"), "consumer.py"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert (ROOT / "zonecfg" / "py.typed").is_file()


def test_the_examples_run(monkeypatch):
    monkeypatch.chdir(ROOT)
    assert doctest.testmod(api).failed == 0


def test_the_program_in_the_readme_runs():
    code = re.search(r"```python\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    assert code is not None
    assert len(code[1].splitlines()) <= 12
    done = subprocess.run([sys.executable, "-c", code[1]], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "A-104 moved from library-east to library-west" in done.stdout
