"""An actuator is in more than one group.

Why
    Two groups that give one actuator different commands fight over it: rain closes
    it and the other group opens it again.
Wrong
    groups:
      east: {actuators: [A-01, A-02]}
      west: {actuators: [A-02, A-03]}
Right
    Keep it in the one group that is to move it.

        groups:
          east: {actuators: [A-01]}
          west: {actuators: [A-02, A-03]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.pointer import join
from zonecfg.results.words import listed

CHECK = Check(
    "actuator-in-several-groups", "error", source="common practice", needs=("groups", "actuators"), over="actuators"
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    for actuator, groups in site.groups_of.items():
        if len(groups) > 1 and actuator in site.actuators:
            *others, last = sorted(groups)
            yield Problem(
                join("actuators", actuator)[1:],
                site.member_at(last, actuator),
                f"{actuator} is also in {listed(others)}",
                tuple(site.member_at(group, actuator) for group in others),
                subjects=(f"actuators/{actuator}", *(f"groups/{group}" for group in groups)),
            )
