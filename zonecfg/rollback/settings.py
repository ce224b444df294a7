"""What controllers store, as plain values that can be put back, moved about and compared."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import Any

from msgspec import Struct

from zonecfg.graph.topology import Topology, hears, sharing, wired
from zonecfg.model.build import build
from zonecfg.model.site import Site


class Settings(Struct, frozen=True, kw_only=True, dict=True):
    """Groups with their members, links, and actions for weather."""

    members: Mapping[str, tuple[str, ...]]
    links: frozenset[tuple[str, str]]
    wet_weather: Mapping[str, Mapping[str, Any]]
    strong_wind: Mapping[str, Mapping[str, Any]]
    about: Mapping[str, Mapping[str, Any]]
    """Name and controller of each group."""

    def of_groups(self, groups: Iterable[str]) -> "Settings":
        """Keep only some groups, with all that belongs to them."""
        kept = list(dict.fromkeys(groups))
        return Settings(
            members={g: self.members[g] for g in kept if g in self.members},
            links=frozenset(link for g in kept for link in self._links_of.get(g, ())),
            wet_weather={g: self.wet_weather[g] for g in kept if g in self.wet_weather},
            strong_wind={g: self.strong_wind[g] for g in kept if g in self.strong_wind},
            about={g: self.about[g] for g in kept if g in self.about},
        )

    def controller_of(self, group: str) -> str | None:
        """The controller that a group names."""
        controller: str | None = self.about.get(group, {}).get("controller")
        return controller

    @cached_property
    def _links_of(self) -> Mapping[str, Sequence[tuple[str, str]]]:
        found: dict[str, list[tuple[str, str]]] = {}
        for link in self.links:
            found.setdefault(link[1], []).append(link)
        return found

    def joined(self, others: Iterable["Settings"]) -> "Settings":
        """Put sets of groups together; of a group in several, the members of all stand in it."""
        links = set(self.links)
        members, about = dict(self.members), dict(self.about)
        wet_weather, strong_wind = dict(self.wet_weather), dict(self.strong_wind)
        for other in others:
            members |= {g: tuple(dict.fromkeys((*members.get(g, ()), *m))) for g, m in other.members.items()}
            links |= other.links
            wet_weather |= other.wet_weather
            strong_wind |= other.strong_wind
            about |= other.about
        return Settings(
            members=members, links=frozenset(links), wet_weather=wet_weather, strong_wind=strong_wind, about=about
        )

    def called(self, names: Mapping[str, str]) -> "Settings":
        """The same with other names for some groups."""
        return Settings(
            members={names.get(g, g): m for g, m in self.members.items()},
            links=frozenset((s, names.get(g, g)) for s, g in self.links),
            wet_weather={names.get(g, g): a for g, a in self.wet_weather.items()},
            strong_wind={names.get(g, g): a for g, a in self.strong_wind.items()},
            about={names.get(g, g): a for g, a in self.about.items()},
        )

    @property
    def plain(self) -> dict[str, Any]:
        """As the sections of a plan have it."""
        links: dict[str, list[str]] = {}
        for sensor, group in sorted(self.links):
            links.setdefault(sensor, []).append(group)
        return {
            "groups": {g: {**self.about.get(g, {}), "actuators": list(m)} for g, m in self.members.items()},
            "links": links,
            "wet_weather": {g: dict(a) for g, a in self.wet_weather.items()},
            "strong_wind": {g: dict(a) for g, a in self.strong_wind.items()},
        }


def settings_of(site: Site) -> Settings:
    """Take the settings out of a site; actuators and groups that are not on the plan are left out of it."""
    raw = site.own.get("groups") or {}
    return Settings(
        members={group: tuple(members) for group, members in site.members_of.items()},
        links=frozenset((s, g) for s, groups in site.links.items() for g in groups if g in site.groups),
        wet_weather=_actions(site, "wet_weather"),
        strong_wind=_actions(site, "strong_wind"),
        about={g: {k: v for k, v in raw[g].items() if k != "actuators"} for g in site.groups},
    )


def _actions(site: Site, section: str) -> dict[str, Mapping[str, Any]]:
    raw = site.own.get(section) or {}
    return {group: raw[group] for group in getattr(site, section) if group in site.groups}


def with_settings(site: Site, settings: Settings) -> Site:
    """The same plant under other settings: everything physical stays as it is."""
    data = {key: value for key, value in site.own.items() if key not in settings.plain}
    return build({**data, **settings.plain}, site.types, site.unknown)


def groups_of_controllers(site: Site, settings: Settings) -> Mapping[str, Sequence[str]]:
    """Groups that each controller holds: those that name it, or all where it is the only one."""
    only = next(iter(site.controllers)) if len(site.controllers) == 1 else None
    found: dict[str, list[str]] = {}
    for group in settings.members:
        if controller := settings.controller_of(group) or only:
            found.setdefault(controller, []).append(group)
    return found


def shuts(action: Mapping[str, Any] | None) -> bool:
    """Whether an action for wet weather closes anything: at most 100 % open is as it was."""
    share = None if action is None else action.get("open_percent")
    return isinstance(share, int | float) and share < 100


class Coverage:
    """Which actuators rain closing reaches, under settings that change."""

    def __init__(self, site: Site) -> None:
        self.exposed = frozenset(
            a.id
            for a in site.actuators.values()
            if not ((opening := site.openings.get(a.opening or "")) and opening.sheltered)
        )
        self.rain = frozenset(s.id for s in site.sensors.values() if s.measures == "rain")
        self._wired = wired(site, Topology(site).buses)
        self._sharing = sharing(site)

    def covering(self, settings: Settings) -> frozenset[str]:
        """Groups that a rain sensor closes: one is linked that the group's controller hears, and an action is set."""
        return frozenset(
            g for s, g in settings.links if shuts(settings.wet_weather.get(g)) and self.closes(s, g, settings)
        )

    def closes(self, sensor: str, group: str, settings: Settings) -> bool:
        """Whether a sensor, once linked, tells the controller of a group that it rains, as far as that is known."""
        return self.closes_at(sensor, settings.controller_of(group))

    def closes_at(self, sensor: str, controller: str | None) -> bool:
        """Whether a sensor tells a controller that it rains, as far as that is known."""
        return sensor in self.rain and hears(controller, self._wired.get(sensor), self._sharing) is not False

    def commands(self, group: str, actuator: str, settings: Settings) -> bool:
        """Whether the controller of a group moves an actuator, as far as that is known."""
        return self.commanded_by(settings.controller_of(group), actuator)

    def commanded_by(self, controller: str | None, actuator: str) -> bool:
        """Whether a controller moves an actuator, as far as that is known."""
        at = self._wired.get(actuator)
        return at is None or controller is None or at == controller

    def at(self, thing: str) -> str | None:
        """The controller that an actuator or a sensor is wired to."""
        return self._wired.get(thing)

    def uncovered(self, settings: Settings) -> int:
        """Number of actuators on unsheltered openings that no rain sensor closes."""
        return len(self.exposed - self.reached(settings))

    def reached(self, settings: Settings) -> set[str]:
        """Actuators that rain closes."""
        covering = self.covering(settings)
        return {a for g in covering for a in settings.members.get(g, ()) if self.commands(g, a, settings)}
