"""Pairs what was found on the bus with the plan, by serial; proposes a pair only where nothing else is possible."""

from collections.abc import Iterator, Mapping, Sequence

from zonecfg.graph.topology import Topology
from zonecfg.identify.found import OnBus
from zonecfg.model.site import Site
from zonecfg.results.matched import Counted, Matched, Missing, Paired, Proposal, Strange
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.words import listed


def matched(site: Site, found: Sequence[OnBus], *, plan: str, found_name: str) -> Matched:
    """Hold the actuators found on the bus against the plan.

    Parameters
    ----------
    site
        The plan, or the record made of it.
    found
        What was read from the bus.
    plan, found_name
        How the two files are called.

    Returns
    -------
    Matched
        Pairs by serial, what is missing, what is strange, counts a controller, proposals, and what of the list the plan
        does not know.
    """
    topology = Topology(site)
    commands = topology.controller_of_actuator
    by_serial = {f.serial: f for f in found}
    pairs = {a.id: by_serial[a.serial] for a in site.actuators.values() if a.serial in by_serial}
    taken = {f.serial for f in pairs.values()}
    strange = [f for f in found if f.serial not in taken]
    single = next(iter(site.controllers)) if len(site.controllers) == 1 else None
    open_ = [a for a in site.actuators if site.actuators[a].serial is None]
    return Matched(
        plan=plan,
        found=found_name,
        controllers=tuple(_counts(site, commands, found, single)),
        paired=tuple(
            Paired(
                actuator=actuator,
                serial=f.serial,
                controller=f.controller or single,
                differs=tuple(_differs(site, actuator, f, commands.get(actuator))),
            )
            for actuator, f in pairs.items()
        ),
        missing=tuple(
            Missing(
                actuator=a.id,
                opening=a.opening,
                serial=a.serial,
                controller=commands.get(a.id),
                because="its serial is not written down" if a.serial is None else "its serial was not found on the bus",
            )
            for a in site.actuators.values()
            if a.id not in pairs
        ),
        strange=tuple(
            Strange(
                serial=f.serial,
                row=f.row,
                type=f.type,
                set=f.set,
                order=f.order,
                controller=f.controller or single,
            )
            for f in strange
        ),
        proposals=tuple(_proposals(site, topology, found, pairs, open_, strange, single)),
        remarks=tuple(_unknown_types(site, found)),
    )


def _unknown_types(site: Site, found: Sequence[OnBus]) -> Iterator[str]:
    """Name the types that the plan does not have: nothing can be proposed by them."""
    known = site.types.get("actuators", {})
    rows: dict[str, list[str]] = {}
    for f in found:
        if known and f.type is not None and f.type not in known:
            rows.setdefault(f.type, []).append(str(f.row))
    for kind, where in rows.items():
        row = f"row{'s' * (len(where) > 1)} {listed(where, 12)}"
        yield f"{kind} ({row}) is none of the plan's types of actuators{did_you_mean(kind, known)}"


def _counts(site: Site, commands: Mapping[str, str], found: Sequence[OnBus], single: str | None) -> Iterator[Counted]:
    """Count a controller; where the list names none and the site has several, all of them together."""
    homes = [f.controller or single for f in found]
    planned = list(commands.values())
    for controller in (*site.controllers, *dict.fromkeys(h for h in homes if h not in site.controllers)):
        if controller is not None:
            here, there = planned.count(controller), homes.count(controller)
            if None not in homes:
                yield Counted(controller=controller, planned=here, found=there, difference=there - here)
    if None in homes or not site.controllers:
        count = len(site.actuators)
        yield Counted(controller=None, planned=count, found=len(found), difference=len(found) - count)


def _differs(site: Site, actuator: str, found: OnBus, controller: str | None) -> Iterator[str]:
    planned = site.actuators[actuator].type
    if found.type is not None and planned is not None and found.type != planned:
        yield f"found as {found.type}, planned as {planned}"
    if found.controller is not None and controller is not None and found.controller != controller:
        yield f"found on {found.controller}, planned on {controller}"


def _proposals(
    site: Site,
    topology: Topology,
    found: Sequence[OnBus],
    pairs: Mapping[str, OnBus],
    open_: Sequence[str],
    strange: Sequence[OnBus],
    single: str | None,
) -> Iterator[Proposal]:
    commands = topology.controller_of_actuator
    proposed: set[str] = set()
    for controller in site.controllers:
        here = [f for f in found if (f.controller or single) == controller]
        for actuator, f in _by_order(site, topology, controller, here, pairs):
            if actuator in open_:
                proposed |= {actuator, f.serial}
                because = (
                    f"it is number {f.order} on the bus of {controller}, and the others fit the order of the cables"
                )
                yield Proposal(actuator=actuator, serial=f.serial, because=because)
        lost = [a for a in site.actuators if commands.get(a) == controller and a not in pairs]
        for kind in dict.fromkeys(site.actuators[a].type for a in lost):
            bare = [a for a in lost if site.actuators[a].type == kind]
            fitting = [f for f in strange if (f.controller or single) == controller and f.type == kind]
            untyped = any(f.type is None for f in strange if (f.controller or single) in {controller, None})
            if (
                kind is None
                or untyped
                or len(bare) != 1
                or len(fitting) != 1
                or len(here) != _planned(commands, controller)
            ):
                continue
            if bare[0] in open_ and not proposed & {bare[0], fitting[0].serial}:
                other = fitting[0].serial
                because = f"it is the only {kind} on {controller} without a serial, and {other} the only strange one"
                yield Proposal(actuator=bare[0], serial=fitting[0].serial, because=because)


def _planned(commands: Mapping[str, str], controller: str) -> int:
    return sum(home == controller for home in commands.values())


def _by_order(
    site: Site, topology: Topology, controller: str, here: Sequence[OnBus], pairs: Mapping[str, OnBus]
) -> Iterator[tuple[str, OnBus]]:
    """Pair by place on the bus, where the bus is one line from its controller and everything known fits it."""
    line = _line_of(site, topology, controller)
    orders = [f.order for f in here]
    if line is None or len(line) != len(here) or None in orders or len(set(orders)) < len(orders):
        return
    ordered = sorted(here, key=lambda f: f.order or 0)
    for actuator, f in zip(line, ordered, strict=True):
        known = pairs.get(actuator)
        planned = site.actuators[actuator].type
        if (known is not None and known.serial != f.serial) or (known is None and f in pairs.values()):
            return
        if f.type is not None and planned is not None and f.type != planned:
            return
    yield from ((a, f) for a, f in zip(line, ordered, strict=True) if a not in pairs)


def _line_of(site: Site, topology: Topology, controller: str) -> list[str] | None:
    """Actuators along the bus, counted from the controller at its end; None where it is no single line."""
    starts = [node for node in topology.beside_on_bus if node[0] == controller]
    if len(starts) != 1 or len(topology.beside_on_bus[starts[0]]) != 1:
        return None
    line, before, here = [], None, starts[0]
    while True:
        onward = [node for _, node in topology.beside_on_bus[here] if node != before]
        if len(onward) > 1:
            return None
        if here[0] in site.actuators:
            line.append(here[0])
        if not onward:
            break
        before, here = here, onward[0]
        if here == starts[0]:
            return None
    commands = topology.controller_of_actuator
    return line if set(line) == {a for a, c in commands.items() if c == controller} else None
