"""A sensor faces away from every window it acts on.

Why
    Rain comes with the wind, on one side first. A sensor on the other side of the
    building is wet last.
Wrong
    sensors:
      R-1: {type: rain-plate, facade_deg: 0}
    # linked to windows that face 180 only
Right
    Put the sensor where the windows are, or link it to those it faces.

        sensors:
          R-1: {type: rain-plate, facade_deg: 180}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import linked_sensors
from zonecfg.figures import Figures
from zonecfg.figures.exposure import WALL_PITCH, between, pitch_of
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "sensor-faces-away",
    "note",
    source="common practice",
    needs=("sensors", "links", "groups", "openings", "actuators"),
    over="sensors",
    scope=linked_sensors,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    if site.groups_unread:
        yield Unknown("the members of a group could not be read", site.groups_unread)
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)
    if site.links_unread:
        yield Unknown("the groups that a sensor acts on could not be read", site.links_unread)
    for sensor in site.sensors.values():
        groups = [g for g in site.links.get(sensor.id, ()) if g in site.groups]
        openings = dict.fromkeys(o for g in groups for o in site.openings_of_group[g])
        if site.unknown and (tilted := [u for o in openings if (u := unread(site, "openings", o, "pitch_deg"))]):
            yield from tilted
            continue
        walls = [site.openings[o] for o in openings if pitch_of(site.openings[o]) >= WALL_PITCH]
        if not walls:
            continue
        if sensor.facade_deg is None:
            yield Unknown("facade_deg of the sensor is not given", (sensor.id,))
            continue
        faces = [wall.facade_deg for wall in walls if wall.facade_deg is not None]
        if any(between(sensor.facade_deg, bearing) <= 90 for bearing in faces):
            continue
        if len(faces) < len(walls):
            yield Unknown("facade_deg is not given", tuple(w.id for w in walls if w.facade_deg is None))
            continue
        nearest = min(between(sensor.facade_deg, bearing) for bearing in faces)
        yield Problem(
            f"sensors/{sensor.id}",
            site.at("sensors", sensor.id, "facade_deg"),
            f"{sensor.id} faces {sensor.facade_deg:g}°, more than 90° away from every wall opening it acts on "
            f"({len(walls)}, the nearest by {nearest:g}°)",
            subjects=(f"sensors/{sensor.id}", *(f"openings/{wall.id}" for wall in walls)),
        )
