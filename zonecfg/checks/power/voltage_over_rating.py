"""A supply gives more voltage than an actuator bears.

Why
    A float-charged battery stands well above its rated voltage; what is made for less ages fast,
    or fails at once.
Wrong
    supplies:
      PS-1: {type: psu-24-10, output_v: 24, output_max_v: 29}      # voltage_max_v: 28.8
Right
    Take a supply that stays below what they bear, or actuators that bear more.

        supplies:
          PS-1: {type: psu-24-10, output_v: 24, output_max_v: 27.6}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

USUAL = 1.2

CHECK = Check(
    "voltage-over-rating",
    "error",
    source="voltage_max_v of the type; where none is given a fifth over voltage_v, IEC 61131-2 as quoted elsewhere",
    needs=("cables", "supplies", "actuators"),
    over="actuators",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.power.unknown is not None:
        yield figures.power.unknown
        return
    for actuator in site.actuators.values():
        feed = figures.topology.feed_of.get(actuator.id)
        if feed is None or not feed.supplies:
            continue
        if (apart := figures.power.apart(feed)) is not None:
            yield apart
            continue
        if lost := unread(site, "actuators", actuator.id, "voltage_max_v", "voltage_v"):
            yield lost
            continue
        for key in feed.supplies:
            supply = site.supplies[key]
            given = supply.output_v if supply.output_max_v is None else supply.output_max_v
            if lost := unread(site, "supplies", key, "output_v", "output_max_v"):
                yield lost
            elif given is None:
                yield Unknown("output_v of the supply is not given", (key,))
            elif actuator.voltage_max_v is None and actuator.voltage_v is None:
                yield Unknown("neither voltage_max_v nor voltage_v of the actuator is given", (actuator.id,))
            else:
                yield from _judged(site, actuator.id, key, given)


def _judged(site: Site, actuator: str, supply: str, given: float) -> Iterator[Problem]:
    device = site.actuators[actuator]
    stated = device.voltage_max_v
    most = stated if stated is not None else USUAL * (device.voltage_v or 0.0)
    if given > most * (1 + 1e-9):
        said = f"{most:g} V is the most it bears"
        if stated is None:
            said = f"no voltage_max_v is given; {most:g} V is a fifth over rated (IEC 61131-2, as quoted elsewhere)"
        yield Problem(
            f"actuators/{actuator}",
            site.at("actuators", actuator, "voltage_v" if stated is None else "voltage_max_v"),
            f"{supply} gives {actuator} up to {given:g} V; {said}",
            (site.at("supplies", supply),),
            "warning" if stated is None else None,
            subjects=(f"actuators/{actuator}", f"supplies/{supply}"),
            size=Size(given, most, "V"),
        )
