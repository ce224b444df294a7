"""The one state a command is about: a site file by its name, or the plan of a folder."""

from pathlib import Path

from zonecfg.errors import CannotRead, UnreadableSite
from zonecfg.model.site import Site
from zonecfg.results.words import counted, listed
from zonecfg.workflow.load import Loader, State
from zonecfg.workflow.paths import find

_LOSES_DATA = frozenset(
    {"unreadable-file", "duplicate-key", "unknown-key", "wrong-shape", "secret-in-plan", "type-defined-twice"}
)


def state_named(path: Path, loader: Loader | None = None) -> State:
    """Read the state that a path names, which has to be one site file.

    Raises
    ------
    CannotRead
        The path cannot be opened, or is a folder or a catalogue.
    UnreadableSite
        The file or a catalogue of it has faults of reading that make a value unknown.
    """
    found = find(path)
    if not path.is_file() or found[0].catalogue:
        raise CannotRead(f"{path.as_posix()}: name one site file")
    state = (loader or Loader()).state(found[0])
    findings = (*state.findings, *(f for c in state.catalogues for f in c.findings))
    if fault := next((f for f in findings if f.check in _LOSES_DATA), None):
        raise UnreadableSite(f"{fault.file}:{fault.line}: {fault.message} ({fault.check}); check tells all of them")
    return state


def plan_of(path: Path) -> tuple[Path, State, Site]:
    """Read a plan that must be whole: a site file, or the as-designed one of a folder.

    Raises
    ------
    CannotRead
        The path cannot be opened, or does not name one plan.
    UnreadableSite
        The plan or a catalogue of it has faults of reading.
    """
    found = [item for item in find(path) if not item.catalogue]
    if not found:
        raise CannotRead(f"{path.as_posix()}: a catalogue has no actuators; name a site file")
    loader = Loader(path if path.is_dir() else None)
    states = [(item.path, loader.state(item)) for item in found]
    if len(states) > 1:
        states = [(p, s) for p, s in states if s.site is not None and s.site.state == "as-designed"]
        if len(states) != 1:
            raise CannotRead(f"{path.as_posix()}: name one of {listed(item.shown for item in found)}")
    where, state = states[0]
    return where, state, whole(state)


def whole(state: State) -> Site:
    """Give the site of a state without faults of reading.

    Raises
    ------
    UnreadableSite
        It has some; the message names the first.
    """
    faults = [f for f in (*state.findings, *(f for c in state.catalogues for f in c.findings)) if f.severity == "error"]
    if state.site is None or faults:
        first = faults[0] if faults else state.findings[0]
        more = f" (and {counted(len(faults) - 1, 'more fault')})" if len(faults) > 1 else ""
        raise UnreadableSite(f"{first.file}:{first.line or 1}: {first.message}{more}; check tells all")
    if state.site.state == "saved":
        raise CannotRead(f"{state.file}: a saved copy holds settings only; name the plan")
    return state.site
