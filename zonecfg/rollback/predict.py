"""What would stand after a saved copy is put back."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct

from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.way import AlsoReturns
from zonecfg.results.words import listed
from zonecfg.rollback.settings import Settings, groups_of_controllers, settings_of

_NAMES = {
    "groups": "groups",
    "links": "links of sensors to groups",
    "wet_weather": "actions for wet weather",
    "strong_wind": "actions for strong wind",
}


class Restored(Struct, frozen=True):
    """What putting a copy back does to its controllers: the groups they lose, and what each of them has then."""

    emptied: frozenset[str]
    back: tuple[tuple[str, Settings], ...]


class Prediction(Struct, frozen=True, kw_only=True):
    """Settings that would stand, and what has to be said about them."""

    settings: Settings
    filled: Restored | None = None
    """What one copy does by itself; None where several are put together."""
    called: tuple[str, ...]
    """What is said of groups that come back under another name."""
    controllers: tuple[str, ...]
    wiped: tuple[str, ...]
    """What the copy does not keep and a restore empties, loudest first."""
    warnings: tuple[str, ...]
    moved: tuple[str, ...]
    """Of the warnings, those about actuators that were replaced or now stand elsewhere."""
    also_returns: tuple[AlsoReturns, ...]
    taken: tuple[str, ...]
    """What is taken for granted and must be said before all else."""
    unsure: frozenset[str]
    """Actuators that a copy may or may not find: one of the two has no serial, or they are found by address."""


def predict(now: Site, copy: Site, name: str) -> Prediction:
    """Work out the settings after a copy is put back; everything physical stays as it is.

    Parameters
    ----------
    now
        The plant as it stands.
    copy
        A saved copy. What it brings back is found by serial, and by id only where one side has no serial.
    name
        How the copy is called in words.

    Returns
    -------
    Prediction
        The settings of the copy's controllers from the copy, less what their type does not keep; all others as now.
    """
    restored = controllers_of_copy(now, copy)
    present, saved = settings_of(now), settings_of_copy(copy)
    finds = {now.controllers[c].copy_finds for c in restored}
    actuator_of, unsure, warnings = _whereabouts(now, copy, by_address=finds == {"address"})
    sensor_of = _found(now.sensors, copy.sensors)
    warnings += _sensors_replaced(now, copy, sensor_of)
    whereabouts = tuple(warnings)
    stands = groups_of_controllers(now, present)
    named: dict[str | None, list[str]] = {}
    for group in saved.members:
        named.setdefault(saved.about[group].get("controller"), []).append(group)
    back: list[tuple[str, Settings]] = []
    wiped: list[str] = []
    also: list[AlsoReturns] = []
    for controller in restored:
        kept = now.controllers[controller].saved_copy_keeps
        keeps = frozenset(grammar().settings if kept is None else kept)
        wiped.extend(_wiped(present.of_groups(stands.get(controller, ())), keeps, controller))
        held = saved.of_groups((*named.get(controller, ()), *named.get(None, ())))
        warnings.extend(_about_controller(now, copy, controller, kept, held, name))
        back.append((controller, _translated(held, keeps, actuator_of, sensor_of, controller, len(now.controllers))))
        also.extend(_also(now, copy, controller))
    emptied = frozenset(group for controller in restored for group in stands.get(controller, ()))
    filled = Restored(emptied, tuple(back))
    settings, (names,) = fill(present, [filled])
    return Prediction(
        settings=settings,
        filled=filled,
        called=tuple(about_names(names, name)),
        controllers=tuple(restored),
        wiped=tuple(wiped),
        warnings=tuple(warnings),
        moved=whereabouts,
        also_returns=tuple(also),
        taken=tuple(_taken(now, restored)),
        unsure=frozenset(unsure),
    )


def fill(present: Settings, copies: Sequence[Restored]) -> tuple[Settings, list[dict[str, str]]]:
    """Empty the controllers of some copies, all of them, and then fill each.

    Returns
    -------
    Settings
        What stands then. A group that comes back under a name that a group of another controller has is called after
        its controller as well: the two are not one.
    list of dict
        For each copy the groups it brings under such a name.
    """
    emptied = frozenset().union(*(copy.emptied for copy in copies))
    result = present.of_groups(g for g in present.members if g not in emptied)
    names: list[dict[str, str]] = []
    for copy in copies:
        home = {group: result.about[group].get("controller") for group in result.members}
        taken = {*home, *(group for _, settings in copy.back for group in settings.members)}
        names.append({})
        for controller, settings in copy.back:
            for group in settings.members:
                if home.get(group) not in {controller, None}:
                    name = f"{group}-{controller}"
                    while name in taken:
                        name += "-"
                    taken.add(name)
                    names[-1][group] = name
        result = result.joined([settings.called(names[-1]) for _, settings in copy.back])
    return result, names


def about_names(names: Mapping[str, str], copy: str) -> Iterator[str]:
    """Say which groups come back under another name."""
    for group, name in names.items():
        yield f"another controller has a group {group} that stays; the one that {copy} brings is called {name} here"


def controllers_of_copy(now: Site, copy: Site) -> list[str]:
    """Controllers that a copy was saved from: those it names, else those of its groups, else the only one."""
    named = list(copy.saved.controllers) if copy.saved else []
    if not named:
        named = list(dict.fromkeys(g.controller for g in copy.groups.values() if g.controller is not None))
    return [c for c in named or now.controllers if c in now.controllers]


def settings_of_copy(copy: Site) -> Settings:
    """The settings as the copy has them, its members and sensors under the ids they had then."""
    raw = copy.own.get("groups") or {}
    return Settings(
        members={g.id: tuple(dict.fromkeys(g.actuators or ())) for g in copy.groups.values()},
        links=frozenset((s, g) for s, groups in copy.links.items() for g in groups),
        wet_weather={g: (copy.own.get("wet_weather") or {})[g] for g in copy.wet_weather},
        strong_wind={g: (copy.own.get("strong_wind") or {})[g] for g in copy.strong_wind},
        about={g: {k: v for k, v in raw[g].items() if k != "actuators"} for g in copy.groups},
    )


def _found(now: Mapping[str, Any], then: Mapping[str, Any]) -> dict[str, str]:
    """Where things of a copy are now: by serial; by id only where one side has no serial."""
    by_serial = {thing.serial: key for key, thing in now.items() if thing.serial is not None}
    found = {}
    for key, thing in then.items():
        if thing.serial is not None and thing.serial in by_serial:
            found[key] = by_serial[thing.serial]
        elif key in now and (thing.serial is None or now[key].serial is None):
            found[key] = key
    return found


def _whereabouts(now: Site, copy: Site, *, by_address: bool) -> tuple[dict[str, str], set[str], list[str]]:
    """Actuators of the copy by where they are now, those of which that is not certain, and what to say of all."""
    known = {a.id: a for a in copy.actuators.values()}
    unlisted = {m for g in copy.groups.values() for m in g.actuators or () if m not in known}
    found = {key: key for key in known if key in now.actuators} if by_address else _found(now.actuators, known)
    found.update({key: key for key in unlisted if key in now.actuators})
    was = {a.serial: a for a in known.values() if a.serial is not None}
    words = []
    bare = [place for place, site in (("the copy", copy), ("the site", now)) if not _has_serials(site)]
    if bare and known:
        words.append(f"no serials in {listed(bare)}: actuators are found by id, and none is seen to have been replaced")
    unsure = set()
    for key, then in known.items():
        here = found.get(key)
        if here is None:
            if key in now.actuators:
                serial = now.actuators[key].serial
                words.append(
                    f"{key} was replaced: serial {then.serial} of the copy finds nothing, and {serial}, which is there "
                    + (f"now, is in the copy as {was[serial].id}" if serial in was else "now, is not in the copy")
                )
            else:
                words.append(
                    f"{key} (serial {then.serial}) is no longer on the site: its place in the copy finds nothing"
                )
            continue
        fitted = now.actuators[here]
        if then.serial != fitted.serial or (fitted.serial is None and not bare):
            unsure.add(here)
        opening = fitted.opening
        if then.opening is not None and opening != then.opening:
            words.append(
                f"serial {then.serial} stood on {then.opening} when saved, now on {opening}: put back, it takes its "
                "group along"
            )
    return found, unsure, words


def _sensors_replaced(now: Site, copy: Site, found: Mapping[str, str]) -> list[str]:
    """Say which sensors the copy does not find, as their serial is another now or gone."""
    linked = {s for s, groups in copy.links.items() if groups}
    return [
        f"{key} was replaced: serial {then.serial} of the copy finds nothing, and its links with it; "
        f"{now.sensors[key].serial} is there now"
        if key in now.sensors
        else f"{key} (serial {then.serial}) is no longer on the site: its links in the copy find nothing"
        for key, then in copy.sensors.items()
        if key not in found and key in linked
    ]


def _taken(now: Site, restored: Iterable[str]) -> Iterator[str]:
    for controller in restored:
        finds = now.controllers[controller].copy_finds
        if finds is None:
            yield (
                f"The type of {controller} does not say by what a copy finds its actuators (copy_finds): taken to be "
                "by serial. Ask before putting a copy back."
            )
        elif finds == "address":
            yield (
                f"{controller} finds its actuators by their address, which no file shows: taken to be where each id "
                "was. See each address before putting a copy back."
            )


def _has_serials(site: Site) -> bool:
    return any(actuator.serial is not None for actuator in site.actuators.values())


def _about_controller(
    now: Site, copy: Site, controller: str, kept: Collection[str] | None, held: Settings, name: str
) -> Iterator[str]:
    fitted = now.controllers[controller]
    was = copy.saved.controllers.get(controller) if copy.saved else None
    if kept is None:
        yield f"the type of {controller} does not say what a copy keeps (saved_copy_keeps): all is taken as kept"
    else:
        holds = {
            "groups": held.members,
            "links": held.links,
            "wet_weather": held.wet_weather,
            "strong_wind": held.strong_wind,
        }
        if more := [_NAMES[section] for section in grammar().settings if section not in kept and holds[section]]:
            yield f"{name} holds {listed(more)} that {controller} does not keep in a copy: they do not come back"
    if was is not None and was.serial and fitted.serial and was.serial != fitted.serial:
        was_, is_ = was.serial, fitted.serial
        yield f"{controller} was replaced: the copy is of serial {was_}, fitted is {is_}; it may refuse the copy"
    if was is not None and was.firmware and fitted.firmware and was.firmware != fitted.firmware:
        was_, is_ = was.firmware, fitted.firmware
        yield f"{controller} had firmware {was_} when saved and has {is_} now; it may read the copy otherwise"


def _wiped(there: Settings, keeps: frozenset[str], controller: str) -> Iterable[str]:
    losses = {
        "groups": len(there.members),
        "links": len(there.links),
        "wet_weather": len(there.wet_weather),
        "strong_wind": len(there.strong_wind),
    }
    for section in ("links", "wet_weather", "strong_wind", "groups"):
        if section not in keeps and losses[section]:
            all_ = f"all {losses[section]} are" if losses[section] > 1 else "the only one is"
            yield f"{controller} keeps no {_NAMES[section]} in a copy: {all_} wiped"


def _translated(
    saved: Settings,
    keeps: frozenset[str],
    actuator_of: Mapping[str, str],
    sensor_of: Mapping[str, str],
    controller: str,
    controllers: int,
) -> Settings:
    if "groups" not in keeps:
        return Settings(members={}, links=frozenset(), wet_weather={}, strong_wind={}, about={})
    about = with_controller(saved.about, controller, controllers)
    links = frozenset((sensor_of[s], g) for s, g in saved.links if s in sensor_of)
    return Settings(
        members={
            g: tuple(dict.fromkeys(actuator_of[m] for m in members if m in actuator_of))
            for g, members in saved.members.items()
        },
        links=links if "links" in keeps else frozenset(),
        wet_weather=saved.wet_weather if "wet_weather" in keeps else {},
        strong_wind=saved.strong_wind if "strong_wind" in keeps else {},
        about=about,
    )


def with_controller(
    about: Mapping[str, Mapping[str, Any]], controller: str, controllers: int
) -> dict[str, Mapping[str, Any]]:
    """Say of groups that a controller holds them, where there are several."""
    return {g: {**a, "controller": controller} if controllers > 1 else dict(a) for g, a in about.items()}


def _also(now: Site, copy: Site, controller: str) -> Iterable[AlsoReturns]:
    day = copy.saved.date if copy.saved and copy.saved.date else "the day it was saved"
    for what in now.controllers[controller].copy_also_holds or ():
        yield AlsoReturns(
            controller=controller,
            what=what,
            text=f"{what} of {controller} also returns to how it was on {day}, not shown here",
        )
