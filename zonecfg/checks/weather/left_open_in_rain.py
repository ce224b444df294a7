"""A group stays open in the rain, and rain can get in.

Why
    Only an outward top-hung sash in a wall covers its own opening; any other lets the
    rain in, and onto whatever is below.
Wrong
    wet_weather:
      attic: {open_percent: 10, when_dry: stay}      # a roof window at pitch 35
Right
    Close the group fully in wet weather.

        wet_weather:
          attic: {open_percent: 0, when_dry: stay}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import wet_groups
from zonecfg.figures import Figures
from zonecfg.figures.exposure import describe, sheds_rain
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "left-open-in-rain",
    "error",
    source="common practice; an outward top-hung sash sheds rain, others lead it in",
    needs=("groups", "openings", "actuators", "wet_weather"),
    over="groups",
    scope=wet_groups,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    for group, action in site.wet_weather.items():
        if group not in site.groups:
            continue
        if action.open_percent is None:
            yield Unknown("open_percent is not known", (group,))
            continue
        if action.open_percent == 0:
            continue
        openings = site.openings_of_group[group]
        unread_here = {o: lost for o in openings if (lost := unread(site, "openings", o, "sheltered", "pitch_deg"))}
        yield from unread_here.values()
        exposed = [site.openings[o] for o in openings if not site.openings[o].sheltered and o not in unread_here]
        letting_in = [opening for opening in exposed if sheds_rain(opening) is False]
        if not letting_in:
            if unclear := [opening.id for opening in exposed if sheds_rain(opening) is None]:
                yield Unknown("hinge or opens is not given", tuple(unclear))
            continue
        gaps = {o.id: gap for o in letting_in if (gap := figures.gap_at(o.id, action.open_percent)) is not None}
        worst = max(gaps, key=lambda o: gaps[o], default=letting_in[0].id)
        shown = f", {gaps[worst]:.0f} mm at {worst}" if gaps else f", {worst}"
        yield Problem(
            f"groups/{group}",
            site.at("wet_weather", group, "open_percent"),
            f"{group} stays {action.open_percent:g} % open in the rain{shown}: "
            f"{describe(site.openings[worst])} lets rain in; 0 closes it",
            subjects=(f"groups/{group}", *(f"openings/{o.id}" for o in letting_in)),
            size=Size(action.open_percent, 0, "%"),
        )
