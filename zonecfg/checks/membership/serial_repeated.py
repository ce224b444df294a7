"""Two things carry one serial number.

Why
    A serial names one device. A saved copy that is put back by serial would reach
    only one of the two, and nobody can say which.
Wrong
    actuators:
      A-01: {type: chain-24-350, opening: W-01, serial: "70041832"}
      A-02: {type: chain-24-350, opening: W-02, serial: "70041832"}
Right
    Read the label again.

        actuators:
          A-01: {type: chain-24-350, opening: W-01, serial: "70041832"}
          A-02: {type: chain-24-350, opening: W-02, serial: "70041839"}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "serial-repeated",
    "error",
    source="common practice",
    needs=("actuators", "sensors", "controllers"),
    over="actuators",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for section in ("actuators", "sensors", "controllers"):
        first: dict[str, str] = {}
        things = getattr(site, section)
        for thing in (things[key] for key in sorted(things)):
            if thing.serial is None:
                if lost := unread(site, section, thing.id, "serial"):
                    yield lost
                continue
            if thing.serial in first:
                yield Problem(
                    f"{section}/{thing.id}",
                    site.at(section, thing.id, "serial"),
                    f"{thing.id} carries serial {thing.serial}, and so does {first[thing.serial]}",
                    (site.at(section, first[thing.serial], "serial"),),
                    subjects=(f"{section}/{thing.id}", f"{section}/{first[thing.serial]}"),
                )
            else:
                first[thing.serial] = thing.id
