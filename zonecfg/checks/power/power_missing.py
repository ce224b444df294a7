"""Something that draws current has no path to a supply.

Why
    It does not move, or does not see the rain. On a drawing with one cable too few, or one that
    carries only the bus, nobody notices before commissioning.
Wrong
    cables:
      K-01: {from: PS-1, to: C-1, type: pair, length_m: 2, carries: [power]}
      K-02: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [bus]}
Right
    Let a cable carry power to it, from the supply or from a neighbour.

        cables:
          K-01: {from: PS-1, to: C-1, type: pair, length_m: 2, carries: [power]}
          K-02: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [power, bus]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.actuator import Actuator
from zonecfg.model.controller import Controller
from zonecfg.model.sensor import Sensor
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "power-missing",
    "error",
    source="common practice",
    needs=("cables", "supplies", "actuators", "controllers", "sensors"),
    over="actuators",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.power.unknown is not None:
        yield figures.power.unknown
        return
    feeds = figures.topology.feed_of
    for section in ("actuators", "controllers", "sensors"):
        for thing in getattr(site, section).values():
            feed = feeds.get(thing.id)
            if feed is not None and feed.supplies:
                continue
            drawn = _drawn(thing)
            if drawn is None:
                yield Unknown("what it draws is not given, and no power cable reaches it", (thing.id,))
            elif drawn > 0:
                cable = _unused(site, figures, thing.id)
                cure = f"let {cable} carry power" if cable else "it needs a cable that carries power"
                yield Problem(
                    f"{section}/{thing.id}",
                    site.at(section, thing.id),
                    f"{thing.id} draws {drawn:g} A, and no cables that carry power lead from it to a supply; {cure}",
                )


def _drawn(thing: Actuator | Controller | Sensor) -> float | None:
    """Give the most a thing draws, as far as its type says."""
    amps = [getattr(thing, name, None) for name in ("peak_a", "running_a", "idle_a")]
    return max((amp for amp in amps if amp is not None), default=None)


def _unused(site: Site, figures: Figures, thing: str) -> str | None:
    """Name a cable to something that has power: it does not carry power itself, or the thing would have some."""
    feeds = figures.topology.feed_of
    for cable in site.cables.values():
        if thing in (cable.from_, cable.to):
            other = feeds.get((cable.to if cable.from_ == thing else cable.from_) or "")
            if other is not None and other.supplies:
                return cable.id
    return None
