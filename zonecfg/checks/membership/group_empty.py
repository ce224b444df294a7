"""A group has no members.

Why
    A sensor linked to an empty group looks like rain closing and closes nothing.
Wrong
    groups:
      east: {actuators: []}
Right
    Give it its members, or take the group out.

        groups:
          east: {actuators: [A-01]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check("group-empty", "warning", source="common practice", needs=("groups",), over="groups")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    for group in site.groups.values():
        if group.actuators == ():
            sensors = site.sensors_of.get(group.id, ())
            linked = f", though {listed(sensors)} {'acts' if len(sensors) == 1 else 'act'} on it" if sensors else ""
            yield Problem(f"groups/{group.id}", site.at("groups", group.id), f"{group.id} has no members{linked}")
