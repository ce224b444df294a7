"""Nothing in the plan shows that a smoke vent opens far enough, or without the mains.

Why
    A smoke vent has to open to the stroke the fire strategy asks, also when a fire has taken the
    mains away. What the strategy asks is not computed here; it has to be stated.
Wrong
    openings:
      SV-1: {type: vent, room: stair, smoke_vent: true}
    supplies:
      PS-1: {type: psu-24-10}      # no battery
Right
    State the stroke the fire strategy asks for, fit actuators that have it, and feed the vent
    from a battery.

        openings:
          SV-1: {type: vent, room: stair, smoke_vent: true, smoke_stroke_mm: 500}
        supplies:
          PS-1: {type: psu-24-10, battery: true}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import vents
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.opening import Opening
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "smoke-vent-unproven",
    "note",
    source="common practice; what is asked of a smoke vent is for the fire strategy to say",
    needs=("openings", "actuators", "supplies", "cables"),
    over="openings",
    scope=vents,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for opening in site.openings.values():
        lost = unread(site, "openings", opening.id, "smoke_vent", "smoke_stroke_mm")
        if lost is not None:
            yield lost
        if not opening.smoke_vent:
            continue
        faults = ["smoke_stroke_mm is not given"] if opening.smoke_stroke_mm is None and lost is None else []
        strokes = [site.actuators[actuator].stroke_max_mm for actuator in site.actuators_of.get(opening.id, ())]
        reach = min((stroke for stroke in strokes if stroke is not None), default=None)
        asked = opening.smoke_stroke_mm
        if asked is not None and reach is not None and reach < asked:
            faults.append(f"its smoke stroke of {asked:g} mm is beyond the {reach:g} mm of its actuators")
        dead = _without_battery(site, figures, opening)
        if isinstance(dead, Unknown):
            yield dead
        elif dead:
            faults.append(dead)
        if faults:
            yield Problem(
                f"openings/{opening.id}",
                site.at("openings", opening.id, "smoke_vent"),
                f"{opening.id} is a smoke vent, and {' and '.join(faults)}",
            )


def _without_battery(site: Site, figures: Figures, opening: Opening) -> str | Unknown:
    """Say which supply of its actuators states no battery; empty where all do."""
    feeds = figures.topology.feed_of
    fed = {actuator: feeds.get(actuator) for actuator in site.actuators_of.get(opening.id, ())}
    supplies = dict.fromkeys(supply for feed in fed.values() if feed is not None for supply in feed.supplies)
    if not fed or any(feed is None or not feed.supplies for feed in fed.values()):
        supplies = dict.fromkeys(site.supplies)  # whichever feeds it
        without = [supply for supply in supplies if not site.supplies[supply].battery]
        if 0 < len(without) < len(supplies):
            return Unknown("it is not known which supply feeds it", (opening.id,))
    without = [supply for supply in supplies if not site.supplies[supply].battery]
    for supply in without:
        if (lost := unread(site, "supplies", supply, "battery")) is not None:
            return lost
    if not supplies:
        return "the plan has no supply with a battery"
    return f"{listed(without)} {'has' if len(without) == 1 else 'have'} no battery" if without else ""
