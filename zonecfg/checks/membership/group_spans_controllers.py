"""A group has a member that another controller commands.

Why
    A controller moves only what is on its own bus: the member stays where it is.
Wrong
    controllers: {C-1: {type: hall}, C-2: {type: hall}}
    groups:
      east: {controller: C-1, actuators: [A-01, A-21]}     # A-21 is on C-2
Right
    Group it with actuators of its own controller.

        groups:
          east: {controller: C-1, actuators: [A-01]}
          annex: {controller: C-2, actuators: [A-21]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "group-spans-controllers",
    "error",
    source="common practice",
    needs=("groups", "actuators", "controllers", "cables"),
    over="groups",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if stray := site.controller_unread("actuators"):
        yield Unknown("it is not known which controller they belong to", stray)
    if site.cables_unread:
        yield Unknown("it is not known what a cable joins or carries", site.cables_unread)
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    controller_of = figures.topology.controller_of_actuator
    for group, members in site.members_of.items():
        home = figures.topology.controller_of_group.get(group)
        commanded = [(m, c) for m in members if (c := controller_of.get(m)) is not None and c in site.controllers]
        if home not in site.controllers and commanded:
            yield Unknown("the group's controller is not known; name it with groups.controller", (group,))
            continue
        strange = [(member, controller) for member, controller in commanded if controller != home]
        if strange:
            names = listed(f"{member} (on {controller})" for member, controller in strange)
            yield Problem(
                f"groups/{group}",
                site.member_at(group, strange[0][0]),
                f"{group} belongs to {home}, which does not command {names}",
                tuple(site.member_at(group, member) for member, _ in strange[1:]),
                subjects=(f"groups/{group}", *(f"actuators/{member}" for member, _ in strange)),
            )
