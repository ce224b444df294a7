"""The bus joins actuators on different supplies, and no common conductor joins these.

Why
    Each end then measures the signal against a zero of its own. The difference between the two
    drives current through the receivers, and destroys them in a thunderstorm.
Wrong
    cables:
      K-05: {from: A-05, to: A-06, type: pair, length_m: 9, carries: [bus]}
    # PS-1 feeds A-05, PS-2 feeds A-06
Right
    Run a common conductor with the bus from one part to the other.

        cables:
          K-05: {from: A-05, to: A-06, type: pair, length_m: 9, carries: [bus, common]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.zero_volt import without_common
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Unknown
from zonecfg.results.pointer import join
from zonecfg.results.words import listed

CHECK = Check(
    "bus-without-common",
    "warning",
    source="ANSI/TIA/EIA-485-A: receivers bear -7 to +12 V between the line and their own zero",
    needs=("cables", "supplies", "actuators", "controllers"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for reason in (figures.buses.unknown, figures.power.unknown):
        if reason is not None:
            yield reason
            return
    fed = {thing for thing, feed in figures.topology.feed_of.items() if feed.supplies}
    for bus in figures.buses.all:
        if lost := tuple(thing for thing in bus.things if thing in site.actuators and thing not in fed):
            yield Unknown("it is not known which supply feeds it", lost)
        if (found := without_common(site, figures.topology, bus, figures.references)) is not None:
            one, other, cables = found
            at, *others = (site.at("cables", cable, "carries") for cable in cables)
            yield Problem(
                bus.about,
                at,
                f"{bus.name} joins actuators on {one} and on {other}, and no cable that carries common joins these; "
                f"let {listed(cables)} carry common",
                tuple(others),
                subjects=(bus.about, *(f"cables/{cable}" for cable in cables)),
                cures=(
                    Cure(
                        f"let {listed(cables)} carry common",
                        tuple(
                            {"op": "add", "path": join("cables", cable, "carries", "-"), "value": "common"}
                            for cable in cables
                        ),
                    ),
                ),
            )
