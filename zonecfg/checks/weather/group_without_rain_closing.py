"""Nothing closes this group in the rain.

Why
    Its windows stay as they are while it rains in.
Wrong
    groups:
      studio-south: {actuators: [A-01a, A-01b]}
    # no rain sensor linked to it, no wet_weather
Right
    Link a rain sensor to it and say what it does, or state that its openings are sheltered.

        links:
          R-1: [studio-south]
        wet_weather:
          studio-south: {open_percent: 0, when_dry: stay}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.exposure import shut_by
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "group-without-rain-closing",
    "warning",
    source="common practice",
    needs=("groups", "openings", "actuators", "wet_weather", "sensors"),
    over="groups",
)


def _unsure(site: Site, group: str, percent: float | None) -> Iterator[Unknown]:
    """Say of which openings it is not known whether the wet action keeps rain out."""
    if unsure := tuple(o for o in site.openings_of_group[group] if shut_by(site.openings[o], percent) is None):
        lacks = "open_percent is not known" if percent is None else "hinge or opens is not given"
        yield Unknown(lacks, (group,) if percent is None else unsure)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    for group, openings in site.openings_of_group.items():
        action = site.wet_weather.get(group)
        percent = None if action is None else action.open_percent
        useless = action is not None and any(shut_by(site.openings[o], percent) is False for o in openings)
        if action is not None and not useless:
            yield from _unsure(site, group, percent)
        if (action is not None and not useless) or (action is None and site.sensors_measuring("rain", group)):
            continue
        unread_here = {o: lost for o in openings if (lost := unread(site, "openings", o, "sheltered"))}
        exposed = [o for o in openings if not site.openings[o].sheltered and o not in unread_here]
        if not exposed:
            yield from unread_here.values()
            continue
        unclear = [s for s in site.sensors_of.get(group, ()) if s in site.sensors and site.sensors[s].measures is None]
        if unclear or not site.links_known:
            yield Unknown("it is not known which rain sensors act on it", (group,))
            continue
        if useless:
            exposed = [o for o in exposed if shut_by(site.openings[o], percent) is False]
            why = f"the wet_weather of {group} leaves it {percent:g} % open, which is no rain closing"
        else:
            why = f"no rain sensor acts on {group}, and it has no wet_weather"
        yield Problem(
            f"groups/{group}",
            site.at("groups", group),
            f"{why}: {listed(exposed)} {'stays' if len(exposed) == 1 else 'stay'} open in the rain",
            subjects=(f"groups/{group}", *(f"openings/{o}" for o in exposed)),
        )
