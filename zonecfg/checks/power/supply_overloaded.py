"""A supply has to give more current than it can.

Why
    Its voltage breaks down when all windows close, which is when it rains: they stop half way,
    and the controller starts anew.
Wrong
    supplies:
      PS-1: {type: psu-24-5, room: plant}
    # output_a: 5, and 12 actuators of 0.9 A close together
Right
    Take a larger supply, split the load, or let the controller move fewer sashes at once.

        supplies:
          PS-1: {type: psu-24-20, room: plant}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "supply-overloaded",
    "error",
    source="sum of the currents of the types, in the worst event",
    needs=("cables", "supplies", "actuators", "controllers", "sensors", "groups", "links"),
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.power.unknown is not None:
        yield figures.power.unknown
        return
    for supply, known in figures.power.supplies.items():
        if known.peak_a is None:
            yield known.unknown or Unknown("its load is not known", (supply,))
        elif known.output_a is None:
            yield Unknown("output_a of the supply is not given", (supply,))
        elif known.peak_a > known.output_a * (1 + 1e-9):
            only = " (running current only: no peak_a is given)" if known.running_only else ""
            yield Problem(
                f"supplies/{supply}",
                site.at("supplies", supply, "output_a"),
                f"{supply} has to give {known.peak_a:.4g} A when {known.peak_event}{only}; it can give "
                f"{known.output_a:g} A: {known.peak_a - known.output_a:.3g} A more, or fewer sashes at once, would do",
            )
