"""The actuators found on the bus against the plan and the record made of it."""

from pathlib import Path

from zonecfg.errors import CannotRead
from zonecfg.identify.found import read_found
from zonecfg.identify.match import matched as pair
from zonecfg.results.matched import Matched
from zonecfg.workflow.plan import state_named


def match(path: Path, found: Path) -> Matched:
    """Hold a found list against a site file.

    Parameters
    ----------
    path
        Site file, as-designed or as-commissioned.
    found
        CSV with a column ``serial``, and ``controller type set order state`` where known.

    Raises
    ------
    CannotRead
        The path cannot be opened or is no site file of a whole plant.
    UnreadableSite
        The site file has faults of reading.
    UnreadableSheet
        The list cannot be taken as it is.
    """
    state = state_named(path)
    if state.site is None or state.site.state == "saved":
        raise CannotRead(f"{path.as_posix()} is a saved copy; match needs the whole plant")
    return pair(
        state.site,
        read_found(found),
        plan=state.file,
        found_name=found.as_posix() if not found.is_absolute() else found.name,
    )
