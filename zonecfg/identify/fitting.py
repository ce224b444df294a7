"""Whether unknown serials can be those of the windows that take part: by count, set, type and controller."""

from collections import Counter
from collections.abc import Collection, Hashable, Iterator, Mapping, Sequence

from msgspec import Struct

from zonecfg.graph.matching import without_place
from zonecfg.identify.found import OnBus
from zonecfg.identify.resolve_first import Window
from zonecfg.model.site import Site
from zonecfg.results.identified import ResolveFirst
from zonecfg.results.words import counted, listed

_MORE = (
    "where a sash has more actuators than the plan says, correct the plan; or read the labels and give the serials of "
    "one sash one word in the column set of the found list"
)


class Kind(Struct, frozen=True):
    """What is known of serials that move as one, or of the actuators of a window; None is a type that is not known."""

    types: tuple[str | None, ...]
    controllers: frozenset[str]


class Fitting:
    """Holds serials against the windows that take part.

    Parameters
    ----------
    site
        The plan.
    commands
        Controller of each actuator.
    windows
        Those that take part.
    """

    def __init__(self, site: Site, commands: Mapping[str, str], windows: Sequence[Window]) -> None:
        self._windows = Counter(
            Kind(
                tuple(sorted((site.actuators[a].type for a in w.actuators), key=str)),
                frozenset(commands[a] for a in w.actuators if a in commands),
            )
            for w in windows
        )

    def strangers(self, groups: Sequence[Sequence[OnBus]]) -> list[OnBus]:
        """Give single serials that no window can have, whatever its number of actuators: they must not move."""
        return [
            group[0]
            for group in groups
            if len(group) == 1 and self._windows and not any(_may_share(self._kind(group), w) for w in self._windows)
        ]

    def faults(self, groups: Sequence[Sequence[OnBus]], isolated: Collection[str]) -> Iterator[ResolveFirst]:
        """Say why the serials cannot all be those of these windows, before any of them moves."""
        odd = [g for g in groups if len(g) > 1 and not any(fits(self._kind(g), w) for w in self._windows)]
        for group in odd:
            yield ResolveFirst(
                because=f"the set {group[0].set} ({listed(f.serial for f in group)}) fits no window that lacks its "
                f"serials: none has {counted(len(group), 'actuator')} of such types on one controller",
                ids=tuple(f.serial for f in group),
                how="correct the column set, type or controller of the found list, or the plan",
            )
        if odd or not self._windows:
            return
        kinds: Counter[Hashable] = Counter(self._kind(group) for group in groups)
        places: Counter[Hashable] = Counter()
        places.update(self._windows)
        if over := without_place(kinds, places, fits):
            dead = listed(sorted(isolated))
            old = f"read the list again, if it is from before {dead} went dead; " if isolated else ""
            yield ResolveFirst(
                because=f"{sum(kinds.values())} unknown serials or sets for "
                f"{counted(sum(places.values()), 'window')} that they could move: {over} too many, and two of them may "
                "be on one sash",
                ids=(),
                how=old + _MORE,
            )

    def _kind(self, group: Sequence[OnBus]) -> Kind:
        homes = frozenset(f.controller for f in group if f.controller is not None)
        return Kind(tuple(sorted((f.type for f in group), key=str)), homes)


def fits(unit: Hashable, window: Hashable) -> bool:
    """Whether serials of a kind can be all those of a window of a kind."""
    assert isinstance(unit, Kind)  # noqa: S101
    assert isinstance(window, Kind)  # noqa: S101
    if len(unit.types) != len(window.types) or not _one_home(unit, window):
        return False
    known = Counter(t for t in unit.types if t is not None)
    known.subtract(t for t in window.types if t is not None)
    return sum(n for n in known.values() if n > 0) <= window.types.count(None)


def _may_share(unit: Kind, window: Kind) -> bool:
    """Whether a single serial can be one of a window's."""
    return _one_home(unit, window) and (unit.types[0] is None or bool({unit.types[0], None} & {*window.types}))


def _one_home(unit: Kind, window: Kind) -> bool:
    return len(unit.controllers) < 2 and (not window.controllers or unit.controllers <= window.controllers)
