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

from zonecfg.checks.cures import setting, smallest_type
from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Size, Unknown

CHECK = Check(
    "supply-overloaded",
    "error",
    source="sum of the currents of the types, in the worst event",
    needs=("cables", "supplies", "actuators", "controllers", "sensors", "groups", "links"),
    over="supplies",
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
                size=Size(known.peak_a, known.output_a, "A"),
                cures=_cures(site, supply, known.peak_a),
            )


def _cures(site: Site, key: str, amp: float) -> tuple[Cure, ...]:
    """The next larger type of the catalogue that gives the same voltage, with a battery where there is one."""
    supply = site.supplies[key]
    larger = smallest_type(
        site,
        "supplies",
        "output_a",
        lambda fields: (
            fields["output_a"] >= amp
            and fields.get("output_v") == supply.output_v
            and bool(fields.get("battery")) == bool(supply.battery)
        ),
    )
    if larger is None or supply.type is None:
        return ()
    return (Cure(f"{larger[0]} gives {larger[1]['output_a']:g} A", setting(site, "supplies", key, "type", larger[0])),)
