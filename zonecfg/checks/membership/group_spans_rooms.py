"""A group moves windows of several rooms.

Why
    Whoever opens the windows of one room opens those of the other; often wanted, sometimes a slip.
Wrong
    groups:
      guests: {actuators: [A-11, A-12]}      # guest rooms 1 and 2
Right
    Make a group a room, or accept it with the reason.

        groups:
          guest-1: {actuators: [A-11]}
          guest-2: {actuators: [A-12]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "group-spans-rooms",
    "note",
    source="common practice",
    needs=("groups", "openings", "actuators", "rooms"),
    over="groups",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    for group, openings in site.openings_of_group.items():
        rooms = dict.fromkeys(room for o in openings if (room := site.openings[o].room) and room in site.rooms)
        unclear = [o for o in openings if site.openings[o].room not in site.rooms]
        if len(rooms) < 2 and unclear and len(openings) > 1:
            yield Unknown(
                f"it is not known which room {listed(unclear)} {'is' if len(unclear) == 1 else 'are'} of", (group,)
            )
        if len(rooms) > 1:
            yield Problem(
                f"groups/{group}",
                site.at("groups", group),
                f"{group} moves windows of {listed(rooms)}",
                subjects=(f"groups/{group}", *(f"rooms/{room}" for room in rooms)),
            )
