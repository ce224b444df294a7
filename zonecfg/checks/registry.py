"""What a check is, and how all of them are found: by walking the families, listed nowhere."""

from collections.abc import Callable, Iterator, Mapping
from functools import cache, cached_property
from importlib import import_module
from pathlib import Path
from textwrap import dedent
from types import ModuleType

from msgspec import Struct

from zonecfg.checks.scope import Scope
from zonecfg.errors import BrokenCheck, UnknownName
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.change import Consequence
from zonecfg.results.finding import Problem, Severity, Unknown
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.outcome import Help

LIVE = ("as-designed", "as-commissioned")
"""States of a whole plant; a saved copy is judged when it is predicted what would stand."""


class Check(Struct, frozen=True):
    """A check as its file declares it.

    ``needs`` are sections it cannot do without once one of them could not be read; ``states`` those it applies to;
    ``over`` the section whose things it judges, one by one, and ``scope`` those of them that it applies to where it is
    not all; ``touches`` what its findings touch where that is not what its family says.

    A check of the Reading family has no function: document and schema find its faults.
    """

    id: str
    severity: Severity
    source: str
    needs: tuple[str, ...] = ()
    states: tuple[str, ...] = LIVE
    over: str = ""
    scope: Scope | None = None
    touches: Consequence | None = None


Problems = Callable[[Site, Figures], Iterator[Problem | Unknown]]


class Enrolled:
    """A check that was found; its file is imported when something of it is asked for."""

    def __init__(self, check_id: str, family: str) -> None:
        self.id = check_id
        self.family = family

    @cached_property
    def module(self) -> ModuleType:
        """The check's own file."""
        module = import_module(f"zonecfg.checks.{self.family}.{self.id.replace('-', '_')}")
        if module.CHECK.id != self.id:
            raise BrokenCheck(f"{module.__name__} declares {module.CHECK.id}; file and id must have one name")
        return module

    @property
    def check(self) -> Check:
        """What its file declares."""
        declared: Check = self.module.CHECK
        return declared

    @property
    def touches(self) -> Consequence:
        """What a finding of it touches."""
        of_family: Consequence = import_module(f"zonecfg.checks.{self.family}").TOUCHES
        return self.check.touches or of_family

    @property
    def problems(self) -> Problems | None:
        """Its function; None where document, schema or runner find its faults."""
        return getattr(self.module, "problems", None)

    @property
    def help(self) -> Help:
        """The parts of its help text, read from its docstring."""
        return read_help(self.check, self.family, self.module.__doc__ or "")

    def judges(self, state: str | None) -> bool:
        """Whether it looks at a site in a state; a family says so for all of its checks, and a check may narrow it."""
        family = import_module(f"zonecfg.checks.{self.family}")
        return state in getattr(family, "STATES", LIVE) and state in self.check.states


@cache
def entries() -> Mapping[str, Enrolled]:
    """Every check by id, in the order of families and ids; none is imported yet.

    Raises
    ------
    BrokenCheck
        Two files declare one id.
    """
    found: dict[str, Enrolled] = {}
    for family, name in _walk(Path(__file__).parent):
        check_id = name.replace("_", "-")
        if check_id in found:
            raise BrokenCheck(f"{check_id} stands in {found[check_id].family} and in {family}; ids are unique")
        found[check_id] = Enrolled(check_id, family)
    return found


def entry(check_id: str) -> Enrolled:
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
