"""The battery of a smoke vent is too small for its wait and its stroke.

Why
    After the mains fail the battery carries the plant at rest for days, and then has to open the
    vents once more.
Wrong
    supplies:
      PS-1: {type: psu-24-10, battery: true, battery_ah: 7}      # 0.2 A at rest
Right
    Take a battery for the current at rest times the hours, and what three minutes of moving take.

        supplies:
          PS-1: {type: psu-24-10, battery: true, battery_ah: 18, standby_h: 72}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import batteries
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, undeclared, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

STANDBY_H = 72.0
MOVING_S = 180.0

CHECK = Check(
    "battery-too-small",
    "warning",
    source="EN 12101-10: 72 h at rest, then 180 s at full current; as quoted elsewhere, open the standard",
    needs=("supplies", "cables", "openings", "actuators", "controllers", "sensors", "groups"),
    over="supplies",
    scope=batteries,
    touches="safety",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    yield from undeclared(site, "smoke_vent")
    power = figures.power
    if power.unknown is not None:
        yield power.unknown
        return
    vents = [a for o in site.openings.values() if o.smoke_vent for a in site.actuators_of.get(o.id, ())]
    feeds = [figures.topology.feed_of.get(actuator) for actuator in vents]
    for key in dict.fromkeys(s for feed in feeds if feed is not None for s in feed.supplies):
        supply = site.supplies[key]
        if lost := unread(site, "supplies", key, "battery", "battery_ah", "standby_h"):
            yield lost
            continue
        if not supply.battery:
            continue
        network = power.network_of(key)
        unknown = network if isinstance(network, Unknown) else network.load_unknown
        if unknown is not None or isinstance(network, Unknown):
            yield unknown or Unknown("its load is not known", (key,))
            continue
        if supply.battery_ah is None:
            yield Unknown("battery_ah is not given", (key,))
            continue
        rest_a = sum(power.draws.idle_a.get(thing, 0.0) for thing in network.things)
        hours = STANDBY_H if supply.standby_h is None else supply.standby_h
        needs = rest_a * hours + network.peak.amp * MOVING_S / 3600
        if supply.battery_ah < needs * (1 - 1e-9):
            whose = "" if supply.standby_h is not None else ", the standard's, since standby_h is not given"
            yield Problem(
                f"supplies/{key}",
                site.at("supplies", key, "battery_ah"),
                f"{key} has a battery of {supply.battery_ah:g} Ah; {rest_a:.3g} A at rest for {hours:g} h{whose}, then "
                f"{network.peak.amp:.3g} A for {MOVING_S:g} s take {needs:.3g} Ah (EN 12101-10, as quoted elsewhere)",
                size=Size(supply.battery_ah, needs, "Ah"),
            )
