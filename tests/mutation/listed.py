"""The lists in ``survivors/``: mutants that no test can notice, or need not, each with why. ``run.py`` reads them."""

import ast
import re
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import yaml

FOLDER = Path(__file__).parent / "survivors"


class Survivor(NamedTuple):
    """What was changed, and in which module and function; whole lines, stripped, several joined by `` / ``."""

    where: str
    was: str
    now: str


def list_of(package: str) -> Path:
    """Give the file of a package's list; all families of checks share one."""
    return FOLDER / f"{package.partition('-')[0]}.yaml"


def read_list(text: str) -> list[Survivor]:
    """Read a list; ValueError where an entry lacks its why or a mutant is not ``in``, ``was`` and ``now``."""
    found = []
    for entry in yaml.safe_load(text) or []:
        if set(entry) != {"why", "mutants"} or not isinstance(entry["why"], str) or not entry["why"].strip():
            raise ValueError(f"an entry needs why and mutants, and nothing more: {entry}")
        for mutant in entry["mutants"]:
            if set(mutant) != {"in", "was", "now"} or not all(isinstance(value, str) for value in mutant.values()):
                raise ValueError(f"a mutant needs in, was and now, all of them text: {mutant}")
            found.append(Survivor(mutant["in"], mutant["was"], mutant["now"]))
    return found


def as_entry(survivors: Sequence[Survivor]) -> str:
    """Write survivors as an entry of a list, ready for its why."""
    mutants = [{"in": s.where, "was": s.was, "now": s.now} for s in survivors]
    return yaml.safe_dump([{"why": None, "mutants": mutants}], sort_keys=False, allow_unicode=True, width=1000)


def from_diff(mutant: str, diff: str) -> Survivor:
    """Read the tool's name of a mutant and its diff."""
    path = re.search(r"^--- (\S+)$", diff, re.MULTILINE)
    if path is None:
        raise ValueError(f"no diff of {mutant}: {diff}")
    function = re.sub("^x_", "", mutant.rpartition(".")[2].partition("__mutmut_")[0].removeprefix("xǁ"))
    body = diff.partition("\n@@")[2].splitlines()
    was, now = (" / ".join(line[1:].strip() for line in body if line.startswith(sign)) for sign in "-+")
    return Survivor(f"{path[1]} {function.replace('ǁ', '.')}", was, now)


def functions_of(text: str) -> set[str]:
    """Name the functions of a module as a list does: ``function`` or ``Class.method``."""
    found = set()
    for node in ast.parse(text).body:
        if isinstance(node, ast.FunctionDef):
            found.add(node.name)
        elif isinstance(node, ast.ClassDef):
            found |= {f"{node.name}.{inner.name}" for inner in node.body if isinstance(inner, ast.FunctionDef)}
    return found
