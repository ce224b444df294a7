"""Everything that is computed of one state of a site."""

from collections.abc import Sequence
from pathlib import Path

from msgspec import structs

from zonecfg.errors import CannotRead, UnreadableSite
from zonecfg.figures import Figures
from zonecfg.figures.remarks import not_computed, remarks
from zonecfg.figures.working import working
from zonecfg.results.figure import FiguresPage
from zonecfg.results.words import counted, listed
from zonecfg.workflow.load import Loader, State
from zonecfg.workflow.paths import find


def figures(path: Path, shown: Sequence[str] = ()) -> FiguresPage:
    """Compute the figures of one state.

    Parameters
    ----------
    path
        A site file, or a folder with one state besides saved copies.
    shown
        Things, as ``section/id``, whose figures are worked out line by line.

    Returns
    -------
    FiguresPage
        The figures; None where one cannot be computed, with the reasons beside them.

    Raises
    ------
    CannotRead
        The path cannot be opened, or does not name one site file.
    UnknownName
        Nothing is worked out of a thing that is named.
    UnreadableSite
        The content of the file cannot be read. Other faults do not stop it: what they touch is not computed.
    """
    state = _one(path)
    if state.site is None:
        first = state.findings[0]
        raise UnreadableSite(f"{state.file}:{first.line or 1}: {first.message}")
    known = Figures(state.site)
    printed = known.printed
    if shown:
        printed = structs.replace(printed, working={thing: working(known, thing) for thing in shown})
    said = remarks(known)
    faults = len(state.findings) + sum(len(catalogue.findings) for catalogue in state.catalogues)
    if faults:
        said = (f"{counted(faults, 'fault')} of reading; what they touch is not known (check tells them)", *said)
    return FiguresPage(
        path=state.file,
        state=state.site.state,
        figures=structs.replace(known.printed, working={t: working(known, t) for t in shown})
        if shown
        else known.printed,
        remarks=said,
        not_computed=not_computed(known),
    )


def _one(path: Path) -> State:
    found = [item for item in find(path) if not item.catalogue]
    if not found:
        raise CannotRead(f"{path.as_posix()}: a catalogue has no figures; name a site file")
    loader = Loader(path if path.is_dir() else None)
    states = [loader.state(item) for item in found]
    if len(states) > 1:
        live = [state for state in states if state.site is None or state.site.state != "saved"]
        if len(live) != 1:
            raise CannotRead(f"{path.as_posix()}: name one of {listed(state.file for state in live or states)}")
        return live[0]
    return states[0]
