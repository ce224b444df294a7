"""What a group's controller does not hear, or does not move: a plan may say it, and nothing comes of it."""

from msgspec import structs

from zonecfg.figures import Figures
from zonecfg.graph.topology import hears, sharing
from zonecfg.results.words import listed


def within_reach(figures: Figures) -> tuple[Figures, tuple[str, ...]]:
    """Leave out the links and members that, as far as is known, do nothing; say which.

    A controller hears its own sensors, and those of another where both share sensors; it moves its own actuators.
    """
    site, topology = figures.site, figures.topology
    home_of = topology.controller_of_group
    shared = sharing(site)
    notes = []
    links, groups = dict(site.links), dict(site.groups)
    for sensor, linked in site.links.items():
        at = topology.controller_of_sensor.get(sensor)
        homes = {group: home_of.get(group, at) for group in linked} if at is not None else {}
        deaf = [group for group, home in homes.items() if hears(home, at, shared) is False]
        if deaf:
            links[sensor] = tuple(group for group in linked if group not in deaf)
            notes.append(f"on another controller, so that these do not hear {sensor}: {listed(deaf)}")
    for group, members in site.members_of.items():
        home = home_of.get(group)
        astray = [a for a in members if topology.controller_of_actuator.get(a, home) != home and home is not None]
        if astray:
            groups[group] = structs.replace(site.groups[group], actuators=tuple(a for a in members if a not in astray))
            notes.append(f"on another controller, so that {group} does not move them: {listed(astray)}")
    if not notes:
        return figures, ()
    return Figures(structs.replace(site, links=links, groups=groups)), tuple(notes)
