"""An actuator stands twice in one group.

Why
    The second line says nothing; often another actuator was meant, and that one is missing.
Wrong
    groups:
      east: {actuators: [A-01, A-02, A-01]}
Right
    Take the second one out, or write the actuator that was meant.

        groups:
          east: {actuators: [A-01, A-02, A-03]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Unknown

CHECK = Check("actuator-repeated-in-group", "warning", source="common practice", needs=("groups",), over="actuators")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    told = set()
    for group in site.groups.values():
        members = group.actuators or ()
        if len(set(members)) == len(members):
            continue
        for member in dict.fromkeys(m for m in members if members.count(m) > 1):
            if member not in told:
                told.add(member)
                yield Problem(
                    f"actuators/{member}",
                    site.member_at(group.id, member, 1),
                    f"{member} stands in {group.id} already",
                    (site.member_at(group.id, member),),
                    cures=(Cure("take it out here", ({"op": "remove", "path": site.member_at(group.id, member, 1)},)),),
                )
