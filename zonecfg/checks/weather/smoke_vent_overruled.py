"""Rain or wind could close a smoke vent in a fire.

Why
    A smoke vent that rain closes keeps the smoke in. Whether a fire command goes before
    rain is for the fire strategy; the controller must state it.
Wrong
    openings:
      W-30: {type: roof-900, room: stair, smoke_vent: true}
    links:
      R-1: [stair-top]
    # and the controller type does not say fire_command_outranks
Right
    Use a controller that states fire_command_outranks, or take the smoke vent out of
    rain and wind closing.

        types:
          controllers:
            smoke-panel: {fire_command_outranks: true}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import vents
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "smoke-vent-overruled",
    "error",
    source="IBC and IFC, 909.16.3: the fire panel's command outranks every other control; rain is not named there, "
    "so that fire goes before rain is inferred, and is for the fire strategy to say",
    needs=("openings", "actuators", "groups", "links", "sensors"),
    over="openings",
    scope=vents,
    touches="safety",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    if site.links_unread:
        yield Unknown("the groups that a sensor acts on could not be read", site.links_unread)
    for opening in site.openings.values():
        if lost := unread(site, "openings", opening.id, "smoke_vent"):
            yield lost
        if not opening.smoke_vent:
            continue
        groups = {g for a in site.actuators_of.get(opening.id, ()) for g in site.groups_of.get(a, ())}
        for group in sorted(groups):
            sensors = sorted(s for s in site.sensors_of.get(group, ()) if s in site.sensors)
            if not sensors:
                continue
            controller = figures.topology.controller_of_group.get(group)
            if controller is None or controller not in site.controllers:
                yield Unknown("the group's controller is not known; name it with groups.controller", (opening.id,))
            elif lost := unread(site, "controllers", controller, "fire_command_outranks"):
                yield lost
            elif not site.controllers[controller].fire_command_outranks:
                yield Problem(
                    f"openings/{opening.id}",
                    site.at("openings", opening.id, "smoke_vent"),
                    f"{opening.id} is a smoke vent and obeys {listed(sensors)} through {group}; "
                    f"{controller} does not state that a fire command goes first",
                    subjects=(f"openings/{opening.id}", f"groups/{group}", *(f"sensors/{s}" for s in sensors)),
                )
                break
