"""Mutants of one package against its tests: ``python tests/mutation/run.py engineering [--diffs]``.

Needs ``pip install mutmut`` beside the test requirements. Works on a copy; prints how many mutants the tests noticed, and
those they did not and ``survivors/`` does not list, with what was changed.
"""

import argparse
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from listed import Survivor, as_entry, from_diff, list_of, read_list

ROOT = Path(__file__).parents[2]
PACKAGES = {
    "engineering": (["zonecfg/engineering/"], ["tests/engineering/"]),
    "compare": (["zonecfg/compare/"], ["tests/compare/", "tests/git/test_merge_data.py"]),
    "rollback": (["zonecfg/rollback/"], ["tests/rollback/"]),
    "identify": (
        [
            f"zonecfg/identify/{name}.py"
            for name in ("code_words", "units", "resolve_first", "fitting", "limits", "rounds", "seen")
        ],
        [
            "tests/site_work/test_code_words.py",
            *(f"tests/site_work/test_identify{name}.py" for name in ("", "_units", "_rounds", "_seen")),
        ],
    ),
    "checks": (["zonecfg/checks/"], ["tests/test_examples.py", "tests/checks/"]),
    "checks-runner": (["zonecfg/checks/registry.py", "zonecfg/checks/runner.py"], ["tests/checks/test_runner.py"]),
    **{
        f"checks-{family.name}": ([f"zonecfg/checks/{family.name}/"], ["tests/test_examples.py", "tests/checks/"])
        for family in sorted((ROOT / "zonecfg" / "checks").iterdir())
        if (family / "__init__.py").exists()
    },
}
# What reads docstrings and signatures cannot run on mutants; what starts another program for each would take days.
LEFT_OUT = ["tests/engineering/test_docstrings.py", "tests/engineering/test_dc_network_spice.py"]
# Added to the copy's conftest.py: a failure is enough, and no time goes into its smallest example; tests that noticed most
# so far go first, then the plain ones. A test of a mutant that takes eight seconds of the processor, or the memory of a small
# machine, is one that would never end; while lines are counted, before, it may take longer.
QUICK = """

import os
import resource
import signal
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import Phase

settings.register_profile("mutants", settings.get_profile("ci"), phases=(Phase.explicit, Phase.generate))
settings.load_profile("mutants")
signal.signal(signal.SIGVTALRM, lambda *_: os._exit(1))
resource.setrlimit(resource.RLIMIT_DATA, (4_000_000_000, resource.RLIM_INFINITY))
NOTICED_BY = Path(__file__).with_name("noticed-by.txt")


def of_a_mutant():
    return os.environ.get("MUTANT_UNDER_TEST", "").startswith("zonecfg.")


def pytest_collection_modifyitems(items):
    times = Counter(NOTICED_BY.read_text("utf-8").splitlines() if NOTICED_BY.exists() else ())
    items.sort(key=lambda item: (-times[item.nodeid], hasattr(item.obj, "hypothesis")))


def pytest_runtest_logreport(report):
    if report.failed and of_a_mutant():
        with NOTICED_BY.open("a", encoding="utf-8") as file:
            print(report.nodeid, file=file)


@pytest.fixture(autouse=True)
def ends():
    signal.setitimer(signal.ITIMER_VIRTUAL, 8 if of_a_mutant() else 0)
    yield
    signal.setitimer(signal.ITIMER_VIRTUAL, 0)
"""
NOTICED = {"killed", "timeout", "suspicious", "segfault", "caught by type check"}


def main() -> int:
    """Run the mutants of a package.

    1 where fewer than 85 of a hundred were noticed or one that was not is not listed, 2 where they could not be run.
    """
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("package", choices=PACKAGES)
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    parser.add_argument(
        "--diffs", action="store_true", help="print those not listed as an entry of the list, for a why"
    )
    parser.add_argument(
        "--keep", type=Path, help="work in this folder; run there again, only those missed are repeated"
    )
    asked = parser.parse_args()
    paths, tests = PACKAGES[asked.package]
    path = list_of(asked.package)
    entries = read_list(path.read_text("utf-8")) if path.exists() else []
    known = {entry for entry in entries if entry.where.startswith(tuple(paths))}
    with tempfile.TemporaryDirectory() as name:
        work = Path(asked.keep or name).absolute() / "zonecfg"
        prepare(work, paths, tests)
        mutmut = [sys.executable, "-m", "mutmut"]
        done = subprocess.run(
            [*mutmut, "run", "--max-children", str(asked.jobs)], cwd=work, check=False, capture_output=True
        )
        told = subprocess.run(
            [*mutmut, "results", "--all", "true"], cwd=work, check=False, capture_output=True, text=True
        )
        results = dict(re.findall(r"^\s*(\S+): (.+)$", told.stdout, re.MULTILINE))
        results = {mutant: how for mutant, how in results.items() if how not in {"skipped", "no tests"}}
        if done.returncode or not results or "not checked" in results.values():
            sys.stderr.write((done.stdout + done.stderr).decode("utf-8", "replace")[-3000:])
            return 2
        missed = []
        for mutant in sorted(mutant for mutant, how in results.items() if how not in NOTICED):
            shown = subprocess.run([*mutmut, "show", mutant], cwd=work, check=True, capture_output=True, text=True)
            missed.append(from_diff(mutant, shown.stdout))
    score = 100 * (1 - len(missed) / len(results))
    print(f"{asked.package}: {len(results) - len(missed)} of {len(results)} mutants noticed, {score:.1f} %; ", end="")
    unlisted = [survivor for survivor in missed if survivor not in known]
    print(f"{len(missed) - len(unlisted)} not noticed are listed, {len(unlisted)} are not")
    if asked.diffs and unlisted:
        print(as_entry(unlisted), end="")
    else:
        tell("not noticed", unlisted)
    tell("listed, but noticed or gone", sorted(known.difference(missed)))
    return int(score < 85 or bool(unlisted))


def tell(what: str, survivors: list[Survivor]) -> None:
    """Print survivors under a heading, if there are any."""
    if survivors:
        print(f"{what}:")
    for survivor in survivors:
        print(f"  {survivor.where}\n    was {survivor.was}\n    now {survivor.now}")


def prepare(work: Path, paths: list[str], tests: list[str]) -> None:
    """Copy the checkout and set the tool up in the copy; forget what it found of those not noticed, if it was there."""
    unwanted = shutil.ignore_patterns(".git", ".venv*", "__pycache__", "build", "dist")
    shutil.copytree(ROOT, work, ignore=unwanted, dirs_exist_ok=True)
    settings = {
        "source_paths": paths,
        "pytest_add_cli_args_test_selection": tests,
        "also_copy": ["schemas", "examples", "tests", "zonecfg", "README.md", "DEVELOPERS.md"],
        "pytest_add_cli_args": ["-x", "-q", "-W", "ignore", *(f"--ignore={path}" for path in LEFT_OUT)],
        "mutate_only_covered_lines": True,
    }
    lines = [f"{key} = {json.dumps(value)}" for key, value in settings.items()]
    with (work / "pyproject.toml").open("a", encoding="utf-8") as file:
        file.write("\n[tool.mutmut]\n" + "\n".join(lines) + "\n")
    with (work / "tests" / "conftest.py").open("a", encoding="utf-8") as file:
        file.write(QUICK)
    (work / "mutants" / "mutmut-stats.json").unlink(missing_ok=True)
    for path in work.glob("mutants/**/*.meta"):
        kept = json.loads(path.read_text("utf-8"))
        codes = kept["exit_code_by_key"]
        kept["exit_code_by_key"] = {mutant: code or None for mutant, code in codes.items()}
        path.write_text(json.dumps(kept), "utf-8")


if __name__ == "__main__":
    sys.exit(main())
