"""A supply gives more than extra-low voltage.

Why
    Over 120 V DC a touch can kill: other cables, other terminals and other people are needed,
    and nothing here is computed or checked for it.
Wrong
    supplies:
      PS-1: {type: psu-230}      # output_v: 230
Right
    Use a supply of extra-low voltage, or have this part planned by who is licensed for it.

        supplies:
          PS-1: {type: psu-24-10}      # output_v: 24
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.power import ELV_V
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "outside-extra-low-voltage",
    "warning",
    source="IEC 60050: extra-low voltage is up to 120 V ripple-free direct voltage",
    needs=("supplies",),
    over="supplies",
    touches="safety",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for supply in site.supplies.values():
        if supply.output_v is None:
            yield Unknown("output_v of the supply is not given", (supply.id,))
        elif supply.output_v > ELV_V:
            yield Problem(
                f"supplies/{supply.id}",
                site.at("supplies", supply.id, "output_v"),
                f"{supply.id} gives {supply.output_v:g} V; extra-low voltage ends at {ELV_V:g} V DC, and no power "
                "figure is computed beyond it",
                size=Size(supply.output_v, ELV_V, "V"),
            )
