"""What must be known before any unknown serial moves: whose sash it may be, and who moves it too."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from zonecfg.figures import Figures
from zonecfg.identify.found import OnBus
from zonecfg.model.site import Site
from zonecfg.results.identified import ResolveFirst
from zonecfg.results.words import counted, listed

_LABELS = "read the labels there and write the serials into the plan"
_SETS = (
    "read the labels there and give both serials one word in the column set of the found list; or isolate the "
    "actuators of one such window, read the found list again, and the serials that are gone belong together; or keep "
    "all of them isolated, read the list again, and name the windows with --isolated"
)
_APART_MM = 150.0


class Window(Struct, frozen=True, kw_only=True):
    """A sash none of whose actuators is known."""

    opening: str
    actuators: tuple[str, ...]


def not_to_move(site: Site, opening: str | None, actuators: Iterable[str]) -> str | None:
    """Say why actuators that are not known must not move in any round; None where they may."""
    sash = site.openings.get(opening or "")
    if sash is None:
        return "it is not known which opening they move"
    if sash.smoke_vent:
        return "it is a smoke vent and follows the fire strategy"
    if sash.escape:
        return "it is an escape window and follows the fire strategy"
    unset = [a for a in actuators if site.actuators[a].stroke_mm is None]
    return f"the stroke of {listed(unset)} is not set" if unset else None


def serials_aside(
    site: Site, free: Sequence[OnBus], special: Sequence[str], others: Sequence[str]
) -> tuple[list[str], bool]:
    """Serials that can only be those of actuators that must not move, and whether that is sure: by type and count."""
    types = {site.actuators[a].type for a in special}
    theirs = [f.serial for f in free if f.type in types]
    sure = (
        None not in types
        and not types & {site.actuators[a].type for a in others}
        and all(f.type is not None for f in free)
        and len(theirs) == len(special)
        and not {f.set for f in free if f.serial in theirs} & {f.set for f in free if f.serial not in theirs} - {None}
    )
    return (theirs, True) if sure else ([], False)


def before_special(special: Iterable[tuple[str, str | None, Sequence[str]]]) -> Iterator[ResolveFirst]:
    """Ask for the serials of actuators that must not move: why, their opening, their ids."""
    for why, opening, actuators in special:
        yield ResolveFirst(
            because=f"{listed(actuators)} must not move among the others: {why}, and any unknown serial may be theirs",
            ids=(opening,) if opening else tuple(actuators),
            how=_LABELS,
        )


def before_partner(site: Site, opening: str, actuators: Sequence[str]) -> ResolveFirst:
    """Ask who moves with the known actuators of a sash."""
    known = [a for a in site.actuators_of[opening] if a not in actuators]
    because = f"{listed(actuators)} {'move' if len(actuators) > 1 else 'moves'} the sash of {opening} with "
    because += f"{listed(known)}, whose serial is known; one moving alone can break it"
    return ResolveFirst(because=because, ids=(opening,), how=_SETS)


def before_sets(
    windows: Iterable[Window], free: Sequence[OnBus], sets: Mapping[str, Sequence[OnBus]]
) -> Iterator[ResolveFirst]:
    """Say which windows have several actuators whose serials nobody put together."""
    at = {f.serial for f in free}
    told = Counter(len(members) for members in sets.values() if all(f.serial in at for f in members))
    by_size: dict[int, list[str]] = {}
    for window in windows:
        by_size.setdefault(len(window.actuators), []).append(window.opening)
    for size, openings in sorted(by_size.items()):
        if size > 1 and told[size] < len(openings):
            because = f"{listed(openings)} {'has' if len(openings) == 1 else 'have'} {size} actuators each, and the "
            because += f"found list tells {counted(told[size], 'set')} of {size}; one moving alone can break a sash"
            yield ResolveFirst(because=because, ids=tuple(openings), how=_SETS)


def faults_of_three(figures: Figures, windows: Iterable[Window]) -> list[str]:
    """Say where closed, half open and open cannot be told apart: calibration is missing, or 150 mm of gap."""
    record = figures.site.record.actuators
    raw, near = [], []
    for window in windows:
        raw += [a for a in window.actuators if a not in record or not record[a].calibrated]
        part, whole = (figures.gap_at(window.opening, percent) for percent in (50, 100))
        if part is None or whole is None or whole - part < _APART_MM - 1e-6:
            gap = "unknown" if part is None or whole is None else f"{whole - part:.0f} mm"
            near.append(f"{window.opening} ({gap})")
    faults = [f"not calibrated: {listed(raw, 12)}"] if raw else []
    return faults + ([f"half open and open less than {_APART_MM:g} mm apart: {listed(near, 12)}"] if near else [])
