"""Several controllers are on one bus.

Why
    Each speaks when it wants to; they talk over each other, and an actuator obeys whichever it
    heard last.
Wrong
    cables:
      K-01: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [bus]}
      K-02: {from: A-01, to: C-2, type: pair, length_m: 9, carries: [bus]}
Right
    Give each controller a bus of its own.

        cables:
          K-01: {from: C-1, to: A-01, type: pair, length_m: 9, carries: [bus]}
          K-02: {from: C-2, to: A-21, type: pair, length_m: 9, carries: [bus]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "controllers-share-a-bus", "error", source="common practice", needs=("cables", "controllers"), over="controllers"
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for bus in figures.buses.all:
        if len(bus.controllers) > 1:
            first, *others = sorted(bus.controllers)
            yield Problem(
                bus.about,
                site.at("controllers", first),
                f"{listed((first, *others))} are on one bus; take the bus out of one of the cables between them",
                tuple(site.at("controllers", other) for other in others),
                subjects=tuple(f"controllers/{controller}" for controller in bus.controllers),
            )
