"""A site in one state: every section by id, and the plain questions that need no graph."""

from collections.abc import Mapping
from functools import cached_property
from typing import Any

from msgspec import Struct

from zonecfg.model.actuator import Actuator
from zonecfg.model.behaviour import Group, StrongWind, WetWeather
from zonecfg.model.building import Room, SiteInfo
from zonecfg.model.controller import Controller
from zonecfg.model.evidence import Acceptance, Record, Saved
from zonecfg.model.opening import Opening
from zonecfg.model.sensor import Sensor
from zonecfg.model.wiring import Cable, Junction, Supply
from zonecfg.results.pointer import join


class Site(Struct, frozen=True, kw_only=True, dict=True, eq=False):
    """One state of one site, types resolved.

    A field that is None is not known: left out, or of a shape that the schema refused. ``unknown`` names the places
    (``section`` or ``section/id/field``) that were refused, so that a check can tell "none" from "not known".
    """

    state: str | None = None
    info: SiteInfo = SiteInfo()
    rooms: Mapping[str, Room] = {}
    openings: Mapping[str, Opening] = {}
    controllers: Mapping[str, Controller] = {}
    supplies: Mapping[str, Supply] = {}
    actuators: Mapping[str, Actuator] = {}
    groups: Mapping[str, Group] = {}
    sensors: Mapping[str, Sensor] = {}
    links: Mapping[str, tuple[str, ...]] = {}
    wet_weather: Mapping[str, WetWeather] = {}
    strong_wind: Mapping[str, StrongWind] = {}
    junctions: Mapping[str, Junction] = {}
    cables: Mapping[str, Cable] = {}
    terminators: tuple[str, ...] = ()
    record: Record = Record()
    saved: Saved | None = None
    accepted: tuple[Acceptance, ...] = ()
    types: Mapping[str, Mapping[str, Mapping[str, Any]]] = {}
    own: Mapping[str, Any] = {}
    unknown: frozenset[str] = frozenset()

    @cached_property
    def actuators_of(self) -> dict[str, list[str]]:
        """Actuators of each opening that has one, in file order."""
        found: dict[str, list[str]] = {}
        for actuator in self.actuators.values():
            if actuator.opening is not None:
                found.setdefault(actuator.opening, []).append(actuator.id)
        return found

    @cached_property
    def groups_of(self) -> dict[str, list[str]]:
        """Groups of each actuator that is in one, each group once."""
        found: dict[str, list[str]] = {}
        for group in self.groups.values():
            for member in group.actuators or ():
                groups = found.setdefault(member, [])
                if not groups or groups[-1] != group.id:
                    groups.append(group.id)
        return found

    @cached_property
    def members_of(self) -> dict[str, list[str]]:
        """Actuators of each group that are on the plan, each once."""
        return {
            group.id: [member for member in dict.fromkeys(group.actuators or ()) if member in self.actuators]
            for group in self.groups.values()
        }

    @cached_property
    def openings_of_group(self) -> dict[str, list[str]]:
        """Openings that each group moves, each once, in the order of its members."""
        openings, actuators = self.openings, self.actuators
        return {
            group: list(
                dict.fromkeys(
                    opening
                    for member in members
                    if (opening := actuators[member].opening) is not None and opening in openings
                )
            )
            for group, members in self.members_of.items()
        }

    @cached_property
    def sensors_of(self) -> dict[str, list[str]]:
        """Sensors that act on each group."""
        found: dict[str, list[str]] = {}
        for sensor, groups in self.links.items():
            for group in dict.fromkeys(groups):
                found.setdefault(group, []).append(sensor)
        return found

    def sensors_measuring(self, what: str, group: str) -> list[str]:
        """Sensors on the plan that act on a group and measure ``rain`` or ``wind``."""
        sensors = self.sensors
        return [s for s in self.sensors_of.get(group, ()) if s in sensors and sensors[s].measures == what]

    @cached_property
    def groups_unread(self) -> tuple[str, ...]:
        """Groups whose list of members could not be read."""
        return () if self.state == "saved" else tuple(g.id for g in self.groups.values() if g.actuators is None)

    @property
    def membership_known(self) -> bool:
        """Whether every group's list of members could be read."""
        return "groups" not in self.unknown and not self.groups_unread

    @cached_property
    def links_unread(self) -> tuple[str, ...]:
        """Sensors whose list of groups could not be read."""
        return tuple(sorted(place.split("/")[1] for place in self.unknown if place.startswith("links/")))

    @cached_property
    def cables_unread(self) -> tuple[str, ...]:
        """Cables of which it is not known what they join or carry."""
        return tuple(c.id for c in self.cables.values() if None in (c.from_, c.to, c.carries))

    @cached_property
    def sashless(self) -> tuple[str, ...]:
        """Actuators of which it is not known whose sash they move."""
        return tuple(actuator.id for actuator in self.actuators.values() if actuator.opening is None)

    @cached_property
    def links_known(self) -> bool:
        """Whether every sensor's list of groups could be read."""
        return "links" not in self.unknown and not self.links_unread

    def controller_unread(self, section: str) -> tuple[str, ...]:
        """Actuators or sensors whose own ``controller`` could not be read."""
        unknown = self.unknown
        if not unknown:
            return ()
        return tuple(
            t for t in getattr(self, section) if f"{section}/{t}" in unknown or f"{section}/{t}/controller" in unknown
        )

    def at(self, section: str, thing: str, field: str | None = None) -> str:
        """Pointer to a thing's own field; to the thing where the field comes from its type or is missing."""
        if field is not None:
            own = self.own.get(section, {}).get(thing)
            if isinstance(own, dict) and field in own:
                return join(section, thing, field)
        return join(section, thing)

    def member_at(self, group: str, member: str, occurrence: int = 0) -> str:
        """Pointer to an actuator in a group's list."""
        listed = self.groups[group].actuators or ()
        places = [index for index, item in enumerate(listed) if item == member]
        return join("groups", group, "actuators", places[occurrence])
