"""The voltages stated of a supply contradict each other.

Why
    At full load or at the end of its battery a supply gives less than rated, never more; while a
    battery is charged it gives more, never less. Which of two figures is meant nobody can tell.
Wrong
    supplies:
      PS-1: {type: psu-24-10, output_v: 24, output_min_v: 26.4}
Right
    State what the data sheet says.

        supplies:
          PS-1: {type: psu-24-10, output_v: 26.4, output_min_v: 24}
"""

from collections.abc import Iterator
from itertools import pairwise

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check("output-contradicts", "error", source="meaning of the fields", needs=("supplies",), over="supplies")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for supply in site.supplies.values():
        if lost := unread(site, "supplies", supply.id, "output_v", "output_min_v", "output_max_v"):
            yield lost
            continue
        volts = ((name, getattr(supply, name)) for name in ("output_min_v", "output_v", "output_max_v"))
        for (low, less), (high, more) in pairwise((name, volt) for name, volt in volts if volt is not None):
            if less > more * (1 + 1e-9):
                yield Problem(
                    f"supplies/{supply.id}",
                    site.at("supplies", supply.id, low),
                    f"{supply.id} has {low} {less:g} V above {high} {more:g} V; both cannot be",
                    size=Size(less, more, "V"),
                )
                break
