"""A fuse is smaller than the current it has to let through.

Why
    It blows when all windows close, which is when it rains.
Wrong
    supplies:
      PS-1: {type: psu-24-10, fuse_a: 4}      # all close with 6.2 A
Right
    Take a fuse above the load, and cables that may carry what it lets through; or move fewer
    sashes at once.

        supplies:
          PS-1: {type: psu-24-10, fuse_a: 10}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import fused
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "fuse-under-load",
    "warning",
    source="IEC 60364-4-43, 433.1: the design current is no larger than the rating of the fuse",
    needs=("cables", "supplies", "actuators", "controllers", "sensors", "groups"),
    over="supplies",
    scope=fused,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if figures.power.unknown is not None:
        yield figures.power.unknown
        return
    for key, known in figures.power.supplies.items():
        fuse = site.supplies[key].fuse_a
        if lost := unread(site, "supplies", key, "fuse_a"):
            yield lost
        elif fuse is None:
            continue  # fuse-over-cable says so
        elif known.peak_a is None:
            yield known.unknown or Unknown("its load is not known", (key,))
        elif fuse < known.peak_a * (1 - 1e-9):
            only = " (running current only: no peak_a is given)" if known.running_only else ""
            yield Problem(
                f"supplies/{key}",
                site.at("supplies", key, "fuse_a"),
                f"{key} has a fuse of {fuse:g} A and feeds {known.peak_a:.4g} A when {known.peak_event}{only}: "
                "it blows then",
                size=Size(fuse, known.peak_a, "A"),
            )
