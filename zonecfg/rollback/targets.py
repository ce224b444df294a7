"""What a plant is to come to: copies put back, a restore that is mended, a plan as far as it is built."""

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from zonecfg.model.site import Site
from zonecfg.rollback.predict import Prediction, about_names, fill, predict
from zonecfg.rollback.settings import Settings, groups_of_controllers, settings_of


class Copy(Struct, frozen=True):
    """A saved copy with the name people call it by."""

    name: str
    site: Site


def put_together(now: Site, copies: Sequence[Copy]) -> Prediction | None:
    """Put copies of different controllers back, whichever first; None where two are of the same one."""
    predictions = [predict(now, copy.site, copy.name) for copy in copies]
    covered = [c for p in predictions for c in p.controllers]
    if len(set(covered)) < len(covered):
        return None
    each = [p.filled for p in predictions if p.filled is not None]
    settings, names = fill(settings_of(now), each)
    both = list(zip(copies, each, names, strict=True))
    return Prediction(
        settings=settings,
        called=tuple(words for copy, _, called in both for words in about_names(called, copy.name)),
        controllers=tuple(covered),
        wiped=tuple(w for p in predictions for w in p.wiped),
        warnings=tuple(w for p in predictions for w in p.warnings),
        moved=tuple(w for p in predictions for w in p.moved),
        also_returns=tuple(a for p in predictions for a in p.also_returns),
        orphans={a: called.get(g, g) for _, one, called in both for a, g in one.orphans.items()},
    )


def on_site(now: Site, plan: Site) -> Settings:
    """Settings of a plan as far as the plant has the actuators and sensors for them, under their names there."""
    settings = settings_of(plan)
    actuators, sensors = _names_now(now.actuators, plan.actuators), _names_now(now.sensors, plan.sensors)
    return Settings(
        members={
            g: tuple(dict.fromkeys(actuators[a] for a in m if a in actuators)) for g, m in settings.members.items()
        },
        links=frozenset((sensors[s], g) for s, g in settings.links if s in sensors),
        wet_weather=settings.wet_weather,
        strong_wind=settings.strong_wind,
        about=settings.about,
    )


def _names_now(now: Mapping[str, Any], planned: Mapping[str, Any]) -> dict[str, str]:
    """Where planned things are: a plan means places, so by id; by serial only what was given another name."""
    by_serial = {thing.serial: key for key, thing in now.items() if thing.serial is not None and key not in planned}
    found = {key: key if key in now else by_serial.get(thing.serial) for key, thing in planned.items()}
    return {key: there for key, there in found.items() if there is not None}


def _as_called(source: Settings, members: Mapping[str, Sequence[str]]) -> Settings:
    """Call groups of a source as they are called where the same members are in one of another name."""
    loose = {frozenset(held): group for group, held in source.members.items() if held and group not in members}
    pairs = [(loose.get(frozenset(held)), group) for group, held in members.items() if group not in source.members]
    return source.called({old: group for old, group in pairs if old is not None})


def mended_settings(now: Site, prediction: Prediction, design: Copy | None) -> Settings:
    """What a restore is mended to: new serials in the groups of those they replaced; links and actions entered again.

    What the copy did not keep is taken from what stands, else from the design; groups from what stands.
    """
    stands = settings_of(now)
    planned = on_site(now, design.site) if design else None
    homes = groups_of_controllers(now, stands)
    wiped = [
        group
        for controller in prediction.controllers
        if (kept := now.controllers[controller].saved_copy_keeps) is not None and "groups" not in kept
        for group in homes.get(controller, ())
    ]
    result = prediction.settings.joined([stands.of_groups(wiped)])
    members = {g: list(m) for g, m in result.members.items()}
    grouped = {a for m in members.values() for a in m}
    for actuator, group in prediction.orphans.items():
        if group in members and actuator not in grouped:
            members[group].append(actuator)
    links, wet, wind = set(result.links), dict(result.wet_weather), dict(result.strong_wind)
    sources = [_as_called(source, members) for source in (stands, planned) if source is not None]
    for source in sources:
        bare = (source.members.keys() & members.keys()) - {group for _, group in links}
        links.update(link for link in source.links if link[1] in bare)
    for group in members:
        for source in sources:
            if group in source.members:
                for section, held in (("wet_weather", wet), ("strong_wind", wind)):
                    if group not in held and group in getattr(source, section):
                        held[group] = getattr(source, section)[group]
    return Settings(
        members={g: tuple(m) for g, m in members.items()},
        links=frozenset(links),
        wet_weather=wet,
        strong_wind=wind,
        about=result.about,
    )
