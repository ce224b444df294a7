"""Every formula says its units, its range, its errors and its source."""

import ast
import doctest
import importlib
import inspect
import pkgutil
import re
import textwrap
from collections import Counter
from pathlib import Path

import pytest

import zonecfg
import zonecfg.engineering

SECTION = re.compile(r"^(\w+)\n-+\n", re.MULTILINE)
UNIT = re.compile(r"\[[^\]]+\]")


def public():
    """Name and object of all public functions, methods and classes, each once."""
    for module in pkgutil.iter_modules(zonecfg.engineering.__path__, "zonecfg.engineering."):
        for name, thing in vars(importlib.import_module(module.name)).items():
            if name.startswith("_") or getattr(thing, "__module__", None) != module.name:
                continue
            if inspect.isfunction(thing):
                yield f"{module.name}.{name}", thing
            elif inspect.isclass(thing):
                yield f"{module.name}.{name}", thing
                for method, code in vars(thing).items():
                    if inspect.isfunction(code) and not method.startswith("_"):
                        yield f"{module.name}.{name}.{method}", code


def sections(thing):
    """Docstring sections by title, the opening words under the empty one."""
    parts = SECTION.split(inspect.getdoc(thing) or "")
    return {"": parts[0]} | dict(zip(parts[1::2], parts[2::2], strict=True))


def arguments(thing):
    """Names of the arguments a caller gives."""
    return [name for name in inspect.signature(thing).parameters if name not in ("self", "args", "kwargs")]


def faults(thing):
    """List what the docstring of a function, method or class lacks."""
    found = sections(thing)
    if inspect.isclass(thing) and issubclass(thing, tuple):
        return [] if UNIT.search(found[""]) else ["a unit"]
    lacks = [] if found.get("References", "").strip() else ["References"]
    entries = re.split(r"^(\w+) : .*\n", found.get("Parameters", ""), flags=re.MULTILINE)
    described = dict(zip(entries[1::2], entries[2::2], strict=True))
    lacks += [f"a unit for {name}" for name in arguments(thing) if not UNIT.search(described.get(name, ""))]
    lacks += [f"an argument {name}" for name in described if name not in arguments(thing)]
    if inspect.isfunction(thing):
        gives = inspect.signature(thing).return_annotation is not None
        if gives and not UNIT.search(found.get("Returns", "")):
            lacks.append("a unit in Returns")
        code = ast.parse(textwrap.dedent(inspect.getsource(thing)))
        if any(isinstance(node, ast.Raise) for node in ast.walk(code)) and "Raises" not in found:
            lacks.append("Raises")
    return lacks


ALL = dict(public())


@pytest.mark.parametrize("name", ALL)
def test_says_units_and_source(name):
    assert faults(ALL[name]) == []


def test_every_module_is_read():
    read = {name.split(".")[2] for name in ALL}
    assert read == {module.name for module in pkgutil.iter_modules(zonecfg.engineering.__path__)}


def test_a_careless_docstring_is_noticed():
    def careless(width_mm, pitch_deg):
        """Say little.

        Parameters
        ----------
        width_mm : float
            Width [mm].
        depth_mm : float
            Depth [mm].

        Returns
        -------
        float
            Something.
        """
        raise ValueError(width_mm, pitch_deg)

    assert faults(careless) == [
        "References",
        "a unit for pitch_deg",
        "an argument depth_mm",
        "a unit in Returns",
        "Raises",
    ]


def test_every_formula_shows_a_number_that_is_true():
    """Examples of docstrings are run: published numbers where there are some."""
    finder = doctest.DocTestFinder(exclude_empty=False)
    told = set()
    for module in pkgutil.iter_modules(zonecfg.engineering.__path__, "zonecfg.engineering."):
        for test in finder.find(importlib.import_module(module.name)):
            outcome = doctest.DocTestRunner().run(test)
            assert not outcome.failed, test.name
            told |= {test.name} if outcome.attempted else set()
    formulas = {name for name, thing in ALL.items() if inspect.isfunction(thing) and name.count(".") == 3}
    assert formulas - told == set()


def test_every_formula_is_used():
    """No function of the package's formulas lives for its tests alone."""
    used = Counter()
    for path in Path(zonecfg.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            used.update(
                [node.id] if isinstance(node, ast.Name) else [node.attr] if isinstance(node, ast.Attribute) else []
            )
    formulas = {thing.__name__ for name, thing in ALL.items() if inspect.isfunction(thing) and name.count(".") == 3}
    assert {name for name in formulas if not used[name]} == set()
