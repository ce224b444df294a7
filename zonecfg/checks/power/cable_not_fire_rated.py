"""A smoke vent hangs on a cable that is not said to last in a fire.

Why
    A vent that has to open during the fire needs a cable that still works then.
Wrong
    cables:
      K-01: {from: PS-1, to: A-31, type: pair-2.5, length_m: 30, carries: [power]}
Right
    Lay a cable with the rating that the fire strategy asks, and state it.

        cables:
          K-01: {from: PS-1, to: A-31, type: fire-2.5, carries: [power], fire_minutes: 30}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import vents
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, undeclared, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "cable-not-fire-rated",
    "note",
    source="common practice; what rating is asked is for the fire strategy to say",
    needs=("cables", "openings", "actuators", "supplies"),
    over="openings",
    scope=vents,
    touches="safety",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    yield from undeclared(site, "smoke_vent")
    if figures.power.unknown is not None:
        yield figures.power.unknown
        return
    found: dict[str, list[str]] = {}
    for opening in site.openings.values():
        if not opening.smoke_vent:
            continue
        for actuator in site.actuators_of.get(opening.id, ()):
            network = figures.power.feeding(actuator)
            if isinstance(network, Unknown) and network is not None:
                feed = figures.topology.feed_of.get(actuator)
                if feed is None or len(feed.supplies) != 1 or figures.power.apart(feed) is not None:
                    yield network
                    continue
                network = figures.power.networks[feed.supplies[0]]
            for cable in network.way_to(actuator):
                if lost := unread(site, "cables", cable, "fire_minutes"):
                    yield lost
                elif not site.cables[cable].fire_minutes:
                    found.setdefault(cable, []).append(opening.id)
    for cable in sorted(found):
        vents = listed(dict.fromkeys(found[cable]))
        yield Problem(
            f"cables/{cable}",
            site.at("cables", cable),
            f"{cable} feeds smoke vents, and no fire_minutes is stated for it: {vents}",
            subjects=(f"cables/{cable}", *(f"openings/{vent}" for vent in found[cable])),
        )
