"""Who takes part in the rounds: serials that move as one, windows to watch, and what must be known before."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from zonecfg.errors import UnreadableSheet, UnreadableSite
from zonecfg.graph.topology import Topology
from zonecfg.identify.fitting import Fitting
from zonecfg.identify.found import OnBus
from zonecfg.identify.resolve_first import (
    Window,
    before_partner,
    before_sets,
    before_special,
    not_to_move,
    serials_aside,
)
from zonecfg.model.site import Site
from zonecfg.results.identified import BySet, ResolveFirst
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.words import counted, listed
from zonecfg.sheets.sheet import actuator_place, natural


class Unit(Struct, frozen=True, kw_only=True):
    """Serials that move as one."""

    number: int
    members: tuple[OnBus, ...]
    controller: str | None
    type: str | None

    @property
    def serials(self) -> tuple[str, ...]:
        """Their serials."""
        return tuple(f.serial for f in self.members)


class Parting(Struct, frozen=True, kw_only=True):
    """Who takes part, who does not, and why."""

    units: tuple[Unit, ...]
    windows: tuple[Window, ...]
    first: tuple[ResolveFirst, ...]
    by_set: tuple[BySet, ...]
    aside: tuple[str, ...]
    remarks: tuple[str, ...]


def parting(site: Site, found: Sequence[OnBus], *, found_name: str, isolated: Collection[str] = ()) -> Parting:
    """Tell who takes part.

    Parameters
    ----------
    site
        The plan, or the record made of it.
    found
        What was read from the bus.
    found_name
        How the found list is called.
    isolated
        Openings whose actuators are cut off, so that nothing of them answers or moves.

    Raises
    ------
    UnreadableSite
        A serial is written down twice, or an opening said to be isolated is none.
    UnreadableSheet
        The found list contradicts the plan or itself.
    """
    owner = _owners(site)
    for f in found:
        if f.controller is not None and site.controllers and f.controller not in site.controllers:
            raise UnreadableSheet(
                f"{found_name}: row {f.row}, column controller: {f.controller} is none of the plan's controllers"
                f"{did_you_mean(f.controller, site.controllers)}"
            )
    known = {f.serial: owner[f.serial] for f in found if f.serial in owner}
    answering = set(known.values())
    lost = {a.id for a in site.actuators.values() if a.id not in answering and a.opening not in isolated}
    _isolated_are_silent(site, isolated, known, found_name)
    sets = _sets(found)
    home = _homes(site, sets, known, found_name)
    strange = [f for f in found if f.serial not in known]
    by_set = tuple(_by_set(site, strange, home, lost))
    placed = {p.serial for p in by_set}
    free = [f for f in strange if f.serial not in placed]
    placed_at = Counter(p.opening for p in by_set)
    remarks = list(_too_many(site, placed_at, lost))
    # Openings where a known actuator moves whose set nobody told, so that any unknown serial may move with it.
    untold = {site.actuators[known[f.serial]].opening for f in found if f.serial in known and f.set is None}
    first: list[ResolveFirst] = []
    windows, special = [], []
    for opening, actuators in _by_opening(site, lost).items():
        if opening is not None and len(site.actuators_of[opening]) > len(actuators):
            if placed_at[opening] < len(actuators):
                if opening in untold:
                    first.append(before_partner(site, opening, actuators))
                else:
                    remarks.append(f"{opening}: not all of {listed(actuators)} are on the bus; it takes no part")
        elif (why := not_to_move(site, opening, actuators)) is not None:
            special.append((why, opening, actuators))
        else:
            windows.append(Window(opening=opening or "", actuators=tuple(actuators)))
    aside, sure = serials_aside(
        site, free, [a for *_, ids in special for a in ids], [a for w in windows for a in w.actuators]
    )
    if special and free and not sure:
        first += before_special(special)
    for why, opening, actuators in special:
        remarks.append(f"{opening or listed(actuators)} takes no part: {why}; read the label there")
    fitting = Fitting(site, Topology(site).controller_of_actuator, windows)
    strangers = fitting.strangers(_together([f for f in free if f.serial not in aside]))
    aside += [f.serial for f in strangers]
    remarks += _strangers(site, strangers)
    free = [f for f in free if f.serial not in aside]
    first += before_sets(windows, free, sets)
    if not first:
        first += fitting.faults(_together(free), isolated)
    windows.sort(key=lambda w: actuator_place(site, w.actuators[0]))
    units = _units(site, free)
    remarks += _counts(units, windows)
    return Parting(
        units=units,
        windows=tuple(windows),
        first=tuple(first if units else ()),
        by_set=by_set,
        aside=tuple(aside),
        remarks=tuple(remarks),
    )


def _owners(site: Site) -> dict[str, str]:
    owner: dict[str, str] = {}
    for actuator in site.actuators.values():
        if actuator.serial is not None and (other := owner.setdefault(actuator.serial, actuator.id)) != actuator.id:
            raise UnreadableSite(
                f"actuators/{actuator.id}: {actuator.serial} is the serial of {other} too; one of the two is misread"
            )
    return owner


def _isolated_are_silent(site: Site, isolated: Collection[str], known: Mapping[str, str], found_name: str) -> None:
    for opening in isolated:
        if opening not in site.openings:
            raise UnreadableSite(f"--isolated {opening}: the plan has no such opening")
    for serial, actuator in known.items():
        if site.actuators[actuator].opening in isolated:
            raise UnreadableSheet(
                f"{found_name}: {serial} of {actuator} answers, so {site.actuators[actuator].opening} is not isolated"
            )


def _sets(found: Iterable[OnBus]) -> dict[str, list[OnBus]]:
    sets: dict[str, list[OnBus]] = {}
    for f in found:
        if f.set is not None:
            sets.setdefault(f.set, []).append(f)
    return sets


def _homes(
    site: Site, sets: Mapping[str, Sequence[OnBus]], known: Mapping[str, str], found_name: str
) -> dict[str, str | None]:
    """Opening of each set of which a serial is known."""
    home: dict[str, str | None] = {}
    for name, members in sets.items():
        for f in members:
            if f.serial in known:
                opening = site.actuators[known[f.serial]].opening
                if home.setdefault(name, opening) != opening:
                    raise UnreadableSheet(
                        f"{found_name}: row {f.row}, column set: {name} has {f.serial} of {opening} and others of "
                        f"{home[name]}; actuators of one set move one sash"
                    )
    return home


def _by_set(
    site: Site, strange: Iterable[OnBus], home: Mapping[str, str | None], lost: Collection[str]
) -> Iterator[BySet]:
    members: dict[str, list[OnBus]] = {}
    for f in strange:
        if f.set is not None and (opening := home.get(f.set)) is not None:
            members.setdefault(opening, []).append(f)
    for opening, serials in members.items():
        open_ = [a for a in site.actuators_of[opening] if a in lost]
        for f, actuator in which(site, serials, open_):
            yield BySet(serial=f.serial, opening=opening, actuator=actuator)


def which(site: Site, serials: Sequence[OnBus], actuators: Sequence[str]) -> list[tuple[OnBus, str | None]]:
    """Say which serial of a sash is which of its actuators: there is one of each, or one of each type."""
    planned, types = [site.actuators[a].type for a in actuators], [f.type for f in serials]
    if len(serials) != len(actuators):
        return [(f, None) for f in serials]
    if len(serials) == 1:
        return [(serials[0], actuators[0])]
    sure = None not in planned and None not in types
    return [
        (f, actuators[planned.index(f.type)] if sure and types.count(f.type) == planned.count(f.type) == 1 else None)
        for f in serials
    ]


def _too_many(site: Site, placed_at: Mapping[str, int], lost: Collection[str]) -> Iterator[str]:
    for opening, count in placed_at.items():
        lacks = sum(a in lost for a in site.actuators_of[opening])
        if count > lacks:
            serials = counted(count, "unknown serial")
            yield f"{opening}: {serials} in one set with a known one of it; the plan lacks {lacks} there"


def _by_opening(site: Site, lost: Collection[str]) -> dict[str | None, list[str]]:
    found: dict[str | None, list[str]] = {}
    for actuator in site.actuators.values():
        if actuator.id in lost:
            found.setdefault(actuator.opening, []).append(actuator.id)
    return found


def _units(site: Site, free: Sequence[OnBus]) -> tuple[Unit, ...]:
    single = next(iter(site.controllers)) if len(site.controllers) == 1 else None
    return tuple(
        Unit(
            number=number,
            members=tuple(members),
            controller=_same(f.controller or single for f in members),
            type=_same(f.type for f in members),
        )
        for number, members in enumerate(_together(free), start=1)
    )


def _together(free: Sequence[OnBus]) -> list[list[OnBus]]:
    """Put serials of one set together; the others are alone."""
    together: dict[tuple[str, str], list[OnBus]] = {}
    for f in free:
        together.setdefault(("serial", f.serial) if f.set is None else ("set", f.set), []).append(f)
    return sorted(
        (sorted(members, key=lambda f: natural(f.serial)) for members in together.values()),
        key=lambda members: natural(members[0].serial),
    )


def _strangers(site: Site, strangers: Iterable[OnBus]) -> Iterator[str]:
    known = site.types.get("actuators", {})
    for f in strangers:
        what = f.type or "its controller"
        strange = f.type is not None and f.type not in known
        why = f", which is none of the plan's types{did_you_mean(f.type or '', known)}" if strange else ""
        yield f"row {f.row}: {f.serial} ({what}{why}) fits no window that takes part; it stays still"


def _same(values: Iterable[str | None]) -> str | None:
    different = set(values)
    return different.pop() if len(different) == 1 else None


def _counts(units: Sequence[Unit], windows: Sequence[Window]) -> Iterator[str]:
    units_of = Counter(len(u.members) for u in units)
    for size, other in sorted(Counter(len(w.actuators) for w in windows).items()):
        one = units_of[size]
        if one < other:
            what = counted(one, "unknown serial") if size == 1 else f"{counted(one, 'set')} of {size} serials"
            where = counted(other, "window") + (f" with {size} actuators" if size > 1 else " with one actuator")
            yield f"{what} for {where}: a window without one stays closed"
