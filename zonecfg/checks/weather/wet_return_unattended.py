"""A group opens again by itself after rain, too soon or within reach from outside.

Why
    Without a delay the windows go up and down with every shower. A window that can be
    reached from outside and opens with nobody there invites people in.
Wrong
    wet_weather:
      lobby: {open_percent: 0, when_dry: return}
Right
    Give dry_minutes, and let windows within 2 m of the ground stay closed or carry a guard screen.

        wet_weather:
          lobby: {open_percent: 0, when_dry: stay}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import wet_groups
from zonecfg.figures import Figures
from zonecfg.figures.exposure import REACH_MM
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "wet-return-unattended",
    "warning",
    source="common practice",
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
        if lost := unread(site, "wet_weather", group, "when_dry", "dry_minutes"):
            yield lost
            continue
        if action.when_dry != "return":
            continue
        faults = [] if action.dry_minutes else ["at once, with no dry_minutes"]
        for opening in (site.openings[o] for o in site.openings_of_group[group]):
            if lost := unread(site, "openings", opening.id, "drop_mm", "sill_mm", "screen"):
                yield lost
                continue
            if opening.drop_mm is None or opening.screen == "guard":
                continue
            if opening.sill_mm is None:
                yield Unknown("sill_mm is not given", (opening.id,))
            elif (height := opening.drop_mm + opening.sill_mm) <= REACH_MM:
                faults.append(
                    f"with {opening.id} only {height / 1000:.2f} m above the ground outside and no guard screen"
                )
        if faults:
            yield Problem(
                f"wet_weather/{group}",
                site.at("wet_weather", group, "when_dry"),
                f"{group} opens again by itself after rain {listed(faults)}",
            )
