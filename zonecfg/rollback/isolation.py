"""Sashes that must not move by half: which, what supply they are cut off from, and what that does to a fire command."""

from collections.abc import Collection, Mapping

from zonecfg.graph.topology import Topology
from zonecfg.model.site import Site
from zonecfg.results.way import Step
from zonecfg.results.words import listed
from zonecfg.rollback.operations import apart, groups_by_actuator
from zonecfg.rollback.settings import Settings
from zonecfg.rollback.steps import listed_in_full

Isolated = Mapping[str, tuple[str, ...]]
"""Openings with those of their actuators that are cut off."""


def halves(site: Site, *states: Settings, unsure: Collection[str] = ()) -> dict[str, tuple[str, ...]]:
    """Find sashes that would move by half under any of some settings, or whose actuators may not be the ones meant."""
    each = [groups_by_actuator(settings) for settings in states]
    return {
        opening: tuple(actuators)
        for opening, actuators in site.actuators_of.items()
        if len(actuators) > 1 and (any(apart(h, actuators) for h in each) or not set(unsure).isdisjoint(actuators))
    }


def isolating(site: Site, topology: Topology, opening: str, actuators: tuple[str, ...], uncovered: int) -> Step:
    """Make the step that cuts a sash off."""
    feeds = [topology.feed_of.get(actuator) for actuator in actuators]
    supplies = list(dict.fromkeys(s for feed in feeds if feed is not None for s in feed.supplies))
    battery = any(site.supplies[s].battery for s in supplies)
    of = listed(supplies, most=10_000) if supplies else "their supply, which the plan does not name"
    both = ", mains and battery" if battery or not supplies else ""
    caution = None
    sash = site.openings.get(opening)
    if sash is not None and sash.smoke_vent:
        caution = (
            f"{opening} is a smoke vent: while it is isolated no fire command opens it. Agree it first with whoever "
            "answers for the fire strategy"
        )
    return Step(
        do="isolate",
        text=f"isolate {listed_in_full(site, actuators)} from {of}{both}: one of them would move alone and could break "
        f"the sash of {opening}",
        actuators=actuators,
        actuator=actuators[0],
        openings=(opening,) if opening in site.openings else (),
        uncovered=uncovered,
        caution=caution,
    )
