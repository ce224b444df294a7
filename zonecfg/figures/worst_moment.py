"""Which sashes, moving together, load one place of a network most.

A controller moves some of its sashes at a time, and which is not known beforehand: every figure takes those that make
it worst. A network is linear, so each mover adds (its current while it moves - its current at rest) x a share of its
own at the place: a transfer resistance for a voltage, what of it runs through a cable for a current. Whatever adds is
taken, the heaviest first, as many of each controller as it moves at once; whatever relieves may as well stand still.
That is exact: the sets of different controllers do not hang on each other.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from heapq import nlargest

from msgspec import Struct

ALL = "all close"
FIRE = "the fire command comes"

Share = Callable[[str], float]


class SashLoad(Struct, frozen=True, gc=False):
    """The actuators of one sash in one network, each with what it draws more while it moves [A]."""

    controller: str | None
    extra_a: tuple[tuple[str, float], ...]


class LoadMoment(Struct, frozen=True, gc=False):
    """Something that sets sashes moving; the name completes "when ...". None moves all it has to."""

    name: str
    sashes: Mapping[str | None, Sequence[SashLoad]]
    at_once: Mapping[str | None, int | None]

    def worst(self, share: Share) -> float:
        """Give the largest sum of extra current x share over all sets of sashes that may move together."""
        total = 0.0
        for home, sashes in self.sashes.items():
            adds = [w for sash in sashes if (w := sum([amp * share(a) for a, amp in sash.extra_a])) > 0]
            most = self.at_once[home]
            total += sum(adds if most is None or len(adds) <= most else nlargest(most, adds))
        return total

    def movers(self, share: Share) -> dict[str, float]:
        """Name a set of actuators that makes this sum, each with what it draws more while it moves [A]."""
        found: dict[str, float] = {}
        for home, sashes in self.sashes.items():
            adds = [(sum([amp * share(a) for a, amp in sash.extra_a]), at) for at, sash in enumerate(sashes)]
            heaviest = sorted((add for add in adds if add[0] > 0), key=lambda add: (-add[0], add[1]))
            for _, at in heaviest[: self.at_once[home]]:
                found.update(sashes[at].extra_a)
        return found

    @property
    def all_together(self) -> bool:
        """Whether every sash may move at the same time, and none relieves anything by moving."""
        queued = any(most is not None and len(self.sashes[home]) > most for home, most in self.at_once.items())
        return not queued and all(amp >= 0 for held in self.sashes.values() for s in held for _, amp in s.extra_a)


def load_moment(name: str, sashes: Iterable[SashLoad], at_once: Mapping[str, int | None]) -> LoadMoment:
    """Gather sashes by their controller; those of no known controller may all move."""
    homes: dict[str | None, list[SashLoad]] = {}
    for sash in sashes:
        homes.setdefault(sash.controller, []).append(sash)
    return LoadMoment(name, homes, {home: None if home is None else at_once.get(home) for home in homes})
