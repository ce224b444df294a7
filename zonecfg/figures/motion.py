"""How long sashes travel, and when the last one has stopped after the rain began."""

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from zonecfg.engineering.motion import queue, travel_time
from zonecfg.figures.unread import unread
from zonecfg.graph.topology import Topology
from zonecfg.model.site import Site


class SensorFigures(Struct, frozen=True, kw_only=True, gc=False):
    """What a sensor sets moving; ``because`` says why the time is not known."""

    groups: int
    actuators: int
    last_settled_s: float | None
    because: str | None = None


def travel_s(site: Site, actuator: str, left_open_percent: float = 0.0) -> float | None:
    """Time of an actuator from fully open to a position [s]; None where stroke or speed is not given."""
    fitted = site.actuators[actuator]
    if fitted.stroke_mm is None or fitted.speed_mm_s is None:
        return None
    return travel_time(fitted.stroke_mm * (1 - left_open_percent / 100), fitted.speed_mm_s)


def sensor_figures(site: Site, topology: Topology) -> Mapping[str, SensorFigures]:
    """Figures of every sensor: what it acts on, and the time from the first drop until all is still [s].

    Every sash starts fully open and goes to its group's position for wet weather (wind: fully closed). Each
    controller moves at most ``moves_at_once`` sashes together; its sashes queue in the order of groups and members.
    The sensor's own time to respond is added.
    """
    rank = {group: number for number, group in enumerate(site.groups)}
    linked = {s: sorted(rank.keys() & site.links.get(s, ()), key=rank.__getitem__) for s in site.sensors}
    return {sensor: _figures_of(site, topology, sensor, groups) for sensor, groups in linked.items()}


def _figures_of(site: Site, topology: Topology, sensor: str, groups: Sequence[str]) -> SensorFigures:
    count = len({actuator for group in groups for actuator in site.members_of[group]})
    last, because = _last_settled(site, topology, sensor, groups)
    return SensorFigures(groups=len(groups), actuators=count, last_settled_s=last, because=because)


def _last_settled(
    site: Site, topology: Topology, sensor: str, groups: Iterable[str]
) -> tuple[float | None, str | None]:
    responds = site.sensors[sensor].responds_s
    if responds is None:
        return None, "responds_s of the sensor is not given"
    wind = site.sensors[sensor].measures == "wind"
    queues: dict[str | None, dict[str, float]] = {}
    for group in groups:
        action = site.wet_weather.get(group)
        left_open = 0.0 if wind else action.open_percent if action else None
        if left_open is None:
            return None, f"{group} has no wet_weather"
        for actuator in site.members_of[group]:
            taken = travel_s(site, actuator, left_open)
            if taken is None:
                return None, f"stroke_mm or speed_mm_s of {actuator} is not given"
            sash = site.actuators[actuator].opening or actuator
            sashes = queues.setdefault(topology.controller_of_actuator.get(actuator), {})
            sashes[sash] = max(taken, sashes.get(sash, 0.0))
    if not queues:
        return None, "the sensor acts on no actuator"
    last = 0.0
    for controller, sashes in queues.items():
        if unread(site, "controllers", controller or "", "moves_at_once"):
            return None, "moves_at_once could not be read"
        commands = site.controllers.get(controller or "")
        at_once = None if commands is None else commands.moves_at_once
        last = max(last, queue(list(sashes.values()), at_once).last_s)
    return last + responds, None
