"""An actuator is in no group.

Why
    No command and no rain sensor reaches it: it stays where it is when all else closes.
Wrong
    actuators:
      A-01: {type: chain-24-350, opening: W-01}
    groups: {}
Right
    Put it into the group that is to move it.

        groups:
          east: {actuators: [A-01]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "actuator-without-group", "error", source="common practice", needs=("actuators", "groups"), over="actuators"
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    homeless = [actuator for actuator in site.actuators if actuator not in site.groups_of]
    if homeless and not site.membership_known:
        yield Unknown("the members of a group could not be read", tuple(homeless))
        return
    for actuator in homeless:
        yield Problem(
            f"actuators/{actuator}", site.at("actuators", actuator), f"{actuator} is in no group: nothing closes it"
        )
