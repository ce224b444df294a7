"""An actuator needs more than 80 % of its force to move its sash.

Why
    Seals harden, hinges dry out and dirt gathers. A window that just closes today does not in
    three winters.
Wrong
    openings:
      W-01: {type: heavy, room: hall, width_mm: 1200, height_mm: 1500, sash_mass_kg: 60}
    actuators:
      A-01: {type: chain-24-350, opening: W-01, stroke_mm: 300}      # needs 0.9 of its thrust_n
Right
    Take a type with a fifth of its force to spare, or one more actuator on the sash.

        types:
          actuators:
            chain-24-350: {kind: chain, thrust_n: 300}
"""

from collections.abc import Iterator
from math import ceil

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.thrust import left_out, need_words
from zonecfg.figures.unread import sashless
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

SHARE = 0.8

CHECK = Check(
    "thrust-margin-small",
    "warning",
    source="common practice: a fifth of the force in reserve",
    needs=("openings", "actuators", "site"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong; what is too weak altogether is another check's."""
    yield from sashless(site)
    for key, thrust in figures.thrusts.items():
        need, stroke = thrust.worst, figures.openings[key].stroke_mm
        if thrust.fire is not None and (need is None or thrust.fire.ratio > need.ratio + 1e-9):
            need, stroke = thrust.fire, figures.openings[key].fire_stroke_mm
        if need is not None and need.ratio > 1 + 1e-9:
            continue
        if need is not None and need.ratio > SHARE * (1 + 1e-9):
            opening, sash = site.openings[key], figures.openings[key]
            enough = ceil(need.force.total_n / need.has_n / SHARE - 1e-9)
            yield Problem(
                f"openings/{key}",
                site.at("actuators", need.actuator, "thrust_n"),
                f"{need_words(site, opening, sash, need, stroke)}: {100 * need.ratio:.0f} % of the {need.has_n:g} N of "
                f"{need.actuator}; {ceil(need.each_n / SHARE)} N each or {enough} such actuators leave a fifth "
                f"in reserve{left_out(opening, sash)}",
                size=Size(need.each_n, SHARE * need.has_n, "N"),
            )
        elif (unknown := thrust.unknown or thrust.at_least or thrust.fire_unknown) is not None:
            yield unknown
