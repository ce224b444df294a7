"""A bus resistor is not at an end of the bus.

Why
    A resistor in mid-line, or a third one, loads the drivers and throws the signal back where it
    should pass.
Wrong
    cables:
      K-01: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [bus]}
      K-02: {from: A-01, to: A-02, type: pair, length_m: 9, carries: [bus]}
    terminators: [C-1, A-01, A-02]
Right
    Leave a resistor at the two ends only; a controller with one built in belongs at an end.

        terminators: [C-1, A-02]
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.bus import Bus
from zonecfg.graph.cables import Port, home_of
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Unknown
from zonecfg.results.pointer import join
from zonecfg.results.words import listed

CHECK = Check(
    "terminator-misplaced",
    "error",
    source="ANSI/TIA/EIA-485-A: a resistor at each of the two ends, none elsewhere",
    needs=("cables", "controllers", "terminators"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong, one finding a bus; and the resistors on no bus at all."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    ends = {bus: bus.ends for bus in figures.buses.all}
    # The list names things, not lines: a controller at the end of one of its lines may carry a resistor.
    excused = {thing for both in ends.values() if not isinstance(both, Unknown) for thing, _ in both}
    excused |= {thing for bus, both in ends.items() if isinstance(both, Unknown) for thing in bus.things}
    home = {thing: bus for bus in ends for thing in bus.things}
    wrong: dict[Bus, list[tuple[str, str]]] = {}
    seen: set[str] = set()
    for index, thing in enumerate(site.terminators):
        at, section = join("terminators", index), home_of(site, thing)
        if thing in home and (thing not in excused or thing in seen):
            wrong.setdefault(home[thing], []).append((f"{thing} again" if thing in seen else thing, at))
        elif thing not in home and section is not None and thing not in seen:
            yield Problem(
                f"{section}/{thing}",
                at,
                f"{thing} carries a bus resistor, and is on no bus; take it out",
                cures=_cures([at]),
            )
        seen.add(thing)
    for bus in ends:
        for thing in bus.controllers:
            built_in = site.controllers[thing].bus_end_resistor == "built-in"
            if built_in and thing not in excused and thing not in seen:
                at = site.at("controllers", thing, "bus_end_resistor")
                wrong.setdefault(bus, []).append((f"{thing} (built in)", at))
    for bus, both in ends.items():
        if isinstance(both, Unknown):
            yield both
        elif bus in wrong:
            yield _of_bus(bus, both, wrong[bus])


def _of_bus(bus: Bus, ends: tuple[Port, Port], wrong: list[tuple[str, str]]) -> Problem:
    (_, at), *others = wrong
    return Problem(
        bus.about,
        at,
        f"{bus.name} ends at {listed(thing for thing, _ in ends)}; {listed(name for name, _ in wrong)} "
        f"{'carries' if len(wrong) == 1 else 'carry'} a resistor as well: take it out there",
        tuple(pointer for _, pointer in others),
        cures=_cures([pointer for _, pointer in wrong if pointer.startswith("/terminators/")]),
    )


def _cures(listed_at: list[str]) -> tuple[Cure, ...]:
    """Take them out of the list, the last first, so that none moves up before its turn."""
    if not listed_at:
        return ()
    steps = ({"op": "remove", "path": at} for at in sorted(listed_at, key=lambda at: -int(at.rpartition("/")[2])))
    return (Cure("take the resistor out there", tuple(steps)),)
