"""What a check is, and how all of them are found: by walking the families, listed nowhere."""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from importlib import import_module
from pathlib import Path
from textwrap import dedent
from types import ModuleType

from msgspec import Struct

from zonecfg.errors import BrokenCheck, UnknownName
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Severity, Unknown
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Help

LIVE = ("as-designed", "as-commissioned")
"""States of a whole plant; a saved copy is judged when it is predicted what would stand."""


class Check(Struct, frozen=True):
    """A check as its file declares it.

    ``needs`` are sections it cannot do without once one of them could not be read; ``states`` those it applies to. A
    check of the Reading family has no function: document and schema find its faults.
    """

    id: str
    severity: Severity
    source: str
    needs: tuple[str, ...] = ()
    states: tuple[str, ...] = LIVE


Problems = Callable[[Site, Figures], Iterator[Problem | Unknown]]


class Entry(Struct, frozen=True):
    """A check with its family, its function, and the module that holds its help."""

    check: Check
    family: str
    problems: Problems | None
    module: ModuleType

    @property
    def help(self) -> Help:
        """The parts of the check's help text, read from its docstring."""
        return read_help(self.check, self.family, self.module.__doc__ or "")


@cache
def entries() -> Mapping[str, Entry]:
    """Every check by id, in the order of families and ids.

    Raises
    ------
    BrokenCheck
        Two files declare one id, or a file's name is not its id.
    """
    found: dict[str, Entry] = {}
    for family, name in _walk(Path(__file__).parent):
        module = import_module(f"zonecfg.checks.{family}.{name}")
        check: Check = module.CHECK
        if check.id in found:
            raise BrokenCheck(f"{check.id} is declared by {found[check.id].module.__name__} and {module.__name__}")
        if check.id.replace("-", "_") != name:
            raise BrokenCheck(f"{module.__name__} declares {check.id}; file and id must have one name")
        found[check.id] = Entry(check, family, getattr(module, "problems", None), module)
    return found


def entry(check_id: str) -> Entry:
    """Find one check.

    Raises
    ------
    UnknownName
        There is no such check.
    """
    known = entries()
    if check_id not in known:
        raise UnknownName(f"{check_id} is no check{did_you_mean(check_id, known)}")
    return known[check_id]


def _walk(root: Path) -> Iterator[tuple[str, str]]:
    for family in sorted(path for path in root.iterdir() if (path / "__init__.py").exists()):
        for module in sorted(path.stem for path in family.glob("[a-z]*.py")):
            yield family.name, module


def read_help(check: Check, family: str, docstring: str) -> Help:
    """Take a check's docstring apart: title, then Why, Wrong and Right, each indented below its word."""
    title, _, rest = docstring.strip().partition("\n")
    parts: dict[str, list[str]] = {"Why": [], "Wrong": [], "Right": []}
    current: list[str] = []
    for line in rest.splitlines():
        if line in parts:
            current = parts[line]
        else:
            current.append(line.removeprefix("    "))
    why, wrong, right = ("\n".join(lines).strip("\n") for lines in parts.values())
    cure, _, example = right.partition("\n\n")
    return Help(
        check=check.id,
        severity=check.severity,
        family=family,
        title=title,
        why=" ".join(why.split()),
        wrong=wrong,
        cure=" ".join(cure.split()),
        right=dedent(example.strip("\n")),
        source=check.source,
    )
