"""An actuator or sensor has no serial in the as-commissioned state.

Why
    Serials written down while fitting save finding each actuator by watching which
    window moves; without them no saved copy can be judged.
Wrong
    actuators:
      A-01: {type: chain-24-350, opening: W-01, stroke_mm: 300}
Right
    Write down the serial from the label.

        actuators:
          A-01: {type: chain-24-350, opening: W-01, stroke_mm: 300, serial: "70041832"}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check("serial-missing", "error", source="common practice", needs=("actuators", "sensors"), over="actuators")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for section in ("actuators", "sensors"):
        for thing in getattr(site, section).values():
            if lost := unread(site, section, thing.id, "serial"):
                yield lost
            elif thing.serial is None:
                yield Problem(f"{section}/{thing.id}", site.at(section, thing.id), f"{thing.id} has no serial")
