"""A spell of weather played through the links and actions of a site."""

from collections.abc import Sequence
from pathlib import Path

from msgspec import structs

from zonecfg.errors import CannotRead
from zonecfg.figures import Figures
from zonecfg.rehearsal.simulate import played
from zonecfg.rehearsal.weather import BadSpell, weather
from zonecfg.results.rehearsal import RehearsalOutcome
from zonecfg.results.words import counted
from zonecfg.workflow.plan import state_named


def rehearse(
    path: Path,
    *,
    wet: Sequence[str] = (),
    wind: Sequence[str] = (),
    fail: Sequence[str] = (),
    fire_minute: float | None = None,
    open_percent: float = 100.0,
) -> RehearsalOutcome:
    """Play weather through a site.

    Parameters
    ----------
    path
        A site file, as-designed or as-commissioned.
    wet, wind
        Spells, ``SENSOR@START..END`` in minutes.
    fail
        Sensors that never report.
    fire_minute
        When the fire command comes.
    open_percent
        How far every sash stands open at the start.

    Raises
    ------
    CannotRead
        The path cannot be opened or is no site file of a whole plant.
    UnreadableSite
        The file has faults of reading.
    BadSpell, UnknownName
        The weather cannot be rehearsed.
    """
    if not (wet or wind or fail or fire_minute is not None):
        raise BadSpell("name some weather: --wet R-1@10..25, --wind WS-1@5..20, --fail R-1 or --fire 12")
    if not 0 <= open_percent <= 100:
        raise BadSpell(f"windows cannot stand {open_percent:g} % open")
    state = state_named(path)
    if state.site is None or state.site.state == "saved":
        raise CannotRead(f"{path.as_posix()} is a saved copy; a rehearsal needs the whole plant")
    outside = weather(state.site, wet=wet, wind=wind, fail=fail, fire_minute=fire_minute)
    names = {group.id: group.name for group in state.site.groups.values() if group.name}
    answer = played(Figures(state.site), outside, state.file, open_percent)
    if faults := sum(f.severity == "error" for f in state.findings):
        note = f"the plan has {counted(faults, 'error')} of reading, and what they touch is left out; check tells them"
        answer = structs.replace(answer, notes=(note, *answer.notes))
    return RehearsalOutcome(rehearsal=answer, names=names)
