"""The team's own rules: JSON Schemas that a plan names under ``house``, judged in a process of their own."""

import json
import subprocess
import sys
from pathlib import Path
from threading import Timer
from typing import Any, get_args

from zonecfg.checks.registry import entries
from zonecfg.checks.runner import placed
from zonecfg.document.catalogue import OutsideRepository, locate, root_of
from zonecfg.document.limits import MAX_BYTES
from zonecfg.document.reader import Document, read
from zonecfg.errors import CannotRead
from zonecfg.model.grammar import grammar
from zonecfg.results.finding import Finding, Problem, Severity
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.pointer import join
from zonecfg.workflow.regular import regular

LONGEST_S = 2.0
"""Seconds one schema may take; a pattern that backtracks for ever is cut off, and that is said."""
_START_S = 20.0


def house_findings(document: Document, path: Path) -> list[Finding]:
    """Judge a document by every schema that it names.

    Parameters
    ----------
    document
        A site file that was read; its data is judged as it is, keys that begin with x- too.
    path
        Where it lies: schemas are named from there, and lie inside the repository.

    Returns
    -------
    list of Finding
        One ``house-rule`` a fault; one about a schema that is none, leads outside or takes too long.
    """
    named = document.data.get("house") if isinstance(document.data, dict) else None
    if not isinstance(named, list):
        return []
    found = []
    for index, written in enumerate(named):
        if isinstance(written, str):
            found += [_placed(document, problem) for problem in _of_schema(document.data, path, written, index)]
    return found


def _placed(document: Document, problem: Problem) -> Finding:
    return placed(entries()["house-rule"].check, problem, document.file, document.places)


def _of_schema(data: Any, path: Path, written: str, index: int) -> list[Problem]:
    at = join("house", index)

    def bad(because: str) -> list[Problem]:
        return [Problem(f"house/{written}", at, f"{written} {because}", subjects=(f"house/{written}",))]

    try:
        file = locate(path, written)
        if not file.is_file():
            near = [p.name for p in file.parent.glob("*.json")] if file.parent.is_dir() else []
            return bad(f"is not there{did_you_mean(file.name, near)}")
        raw = regular(file, MAX_BYTES)
        schema = read(raw, written).data if file.suffix in (".yaml", ".yml") else json.loads(raw)
    except OutsideRepository as error:
        return bad(f"is no schema of this repository: {error}")
    except (CannotRead, OSError, ValueError, RecursionError) as error:
        return bad(f"cannot be read: {str(error)[:200]}")
    if not isinstance(schema, dict | bool):
        return bad("is no schema: a mapping is needed")
    asked = {"data": data, "schema": schema, "base": str(file.resolve()), "root": str(root_of(path))}
    answer = _judged(asked)
    if answer is None:
        return bad(f"took longer than {LONGEST_S:g} s and was cut off: look for a pattern that repeats a repetition")
    if "bad" in answer:
        where = f" (at {join(*answer['at'])})" if answer.get("at") else ""
        return bad(f"{answer['bad']}{where}")
    found = [_problem(fault, written) for fault in answer["faults"]]
    if answer.get("more"):
        found += bad(f"finds more than {len(found)} faults; the first are told")
    return found


def _problem(fault: dict[str, Any], written: str) -> Problem:
    path = fault["path"]
    known = grammar().thing_at(tuple(path[:2])) or grammar().thing_at(tuple(path[:3]))
    thing = f"{known[0].replace('.', '/')}/{known[1]}" if known else "/".join(path) or "plan"
    says = f"{fault['says']}: " if fault["says"] else ""
    severity: Severity | None = fault["severity"] if fault["severity"] in get_args(Severity) else None
    return Problem(
        f"{thing} {written}#{join(*fault['keyword'])}",
        join(*path),
        f"{says}{fault['message']} ({written})",
        severity=severity,
        subjects=(thing,),
    )


def _judged(asked: dict[str, Any]) -> dict[str, Any] | None:
    """Let a process of its own judge; None where it took too long."""
    command = [sys.executable, "-m", "zonecfg.schema.house_judge"]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as child:  # noqa: S603
        assert child.stdin is not None and child.stdout is not None  # noqa: PT018, S101  (asked for as pipes)
        watch = Timer(_START_S, child.kill)
        watch.start()
        try:
            child.stdin.write(json.dumps(asked).encode())
            child.stdin.close()
            child.stdout.readline()
            watch.cancel()
            watch = Timer(LONGEST_S, child.kill)
            watch.start()
            told = child.stdout.read()
            child.wait()
        except BrokenPipeError:
            return None
        finally:
            watch.cancel()
    try:
        answer: dict[str, Any] = json.loads(told)
    except ValueError:
        return None
    return answer
