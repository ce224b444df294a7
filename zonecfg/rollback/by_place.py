"""Settings of a copy or a plan by place: the windows that moved together then move together again."""

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from zonecfg.model.actuator import Actuator
from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.rollback.predict import Restored, controllers_of_copy, fill, settings_of_copy, with_controller
from zonecfg.rollback.settings import Coverage, Settings, groups_of_controllers, settings_of


class _Source(Struct, frozen=True):
    """One copy, or a plan, read by place."""

    site: Site
    saved: Settings
    controllers: Sequence[str]
    """Controllers whose groups it gives."""
    keeps: Mapping[str, frozenset[str]]


def by_place(now: Site, copies: Sequence[Site], *, design: Settings | None = None, whole: bool = False) -> Settings:
    """Work out the settings under which the windows of copies move together again.

    A window is found by its opening; else by the actuator's id; else by its serial. Whatever is fitted to a sash now
    goes where the sash was. What was added since stays where it is; a sash that a copy itself has pulled apart is left
    whole where it is whole now, and made whole in the copy's first group where it is not.

    Parameters
    ----------
    now
        The plant as it stands.
    copies
        Saved copies of different controllers, or one plan.
    design
        Settings to take what neither a copy keeps nor the plant has from.
    whole
        Whether the one site given is a plan: of all controllers, keeping all, and meant to the letter.

    Returns
    -------
    Settings
        Of the whole plant; other controllers stay as they are, less the actuators that a copy's groups take.
    """
    present = settings_of(now)
    sources = [_source(now, copy, whole=whole) for copy in copies]
    stands = groups_of_controllers(now, present)
    emptied = frozenset(g for s in sources for c in s.controllers for g in stands.get(c, ()))
    if whole:
        emptied = frozenset(present.members)
    filled = [_filled(now, source, emptied, whole=whole) for source in sources]
    base, names = fill(present, filled)
    fresh = frozenset(
        names[i].get(g, g) for i, copy in enumerate(filled) for _, held in copy.back for g in held.members
    )
    goals = _goals(now, sources, filled, names, present)
    called = _called(present, emptied, fresh, goals)
    homes = _homes(present)
    coverage = Coverage(now)
    members: dict[str, list[str]] = {group: [] for group in base.members}
    about = dict(base.about)
    for actuator in now.actuators:
        goal = goals.get(actuator)
        here = homes.get(actuator, ())
        reach = None if goal is None else [g for g in goal if coverage.commands(g, actuator, base)]
        if goal is None or (goal and not reach and here):  # added since, or wired to another controller since
            targets = [called.get(g, g) for g in here]
        elif goal:
            targets = list(goal)
        else:
            targets = [g for g in here if g not in emptied]
        for group in dict.fromkeys(targets):
            if group not in members:
                members[group] = []
                about[group] = present.about.get(group, {})
            members[group].append(actuator)
    stood = present.called(called)
    own = members.keys() - fresh  # groups that stand as they are
    kept = stood.of_groups(own)
    links = {*base.links, *kept.links}
    wet, wind = {**base.wet_weather, **kept.wet_weather}, {**base.strong_wind, **kept.strong_wind}
    if not whole:
        known = {there for s in sources for there in _sensors(now, s.site).values()}
        links |= {(s, g) for s, g in stood.links if s not in known and g in members}
        for more in (stood, design):
            if more is not None:
                links |= _missing_links(more, members, links)
                for section, held in (("wet_weather", wet), ("strong_wind", wind)):
                    for group, action in getattr(more, section).items():
                        if group in members:
                            held.setdefault(group, action)
    return Settings(
        members={g: tuple(m) for g, m in members.items()},
        links=frozenset((s, g) for s, g in links if g in members and s in now.sensors),
        wet_weather={g: a for g, a in wet.items() if g in members},
        strong_wind={g: a for g, a in wind.items() if g in members},
        about={g: about.get(g, {}) for g in members},
    )


def _missing_links(
    source: Settings, members: Iterable[str], links: Iterable[tuple[str, str]]
) -> frozenset[tuple[str, str]]:
    """Links of a source to groups that have none yet."""
    linked = {group for _, group in links}
    groups = set(members) - linked
    return frozenset(link for link in source.links if link[1] in groups)


def _source(now: Site, copy: Site, *, whole: bool) -> _Source:
    everything = frozenset(grammar().settings)
    keeps = {}
    for name, controller in now.controllers.items():
        kept = controller.saved_copy_keeps
        keeps[name] = everything if whole or kept is None else frozenset(kept)
    controllers = list(now.controllers) if whole else controllers_of_copy(now, copy)
    saved = settings_of(copy) if whole else settings_of_copy(copy)
    return _Source(copy, saved, [c for c in controllers if "groups" in keeps[c]], keeps)


def _filled(now: Site, source: _Source, emptied: frozenset[str], *, whole: bool) -> Restored:
    """What each controller is given, its groups still empty: who is in them is a matter of places."""
    saved, sensors = source.saved, _sensors(now, source.site)
    bare = Settings(
        members=dict.fromkeys(saved.members, ()),
        links=frozenset((sensors[s], g) for s, g in saved.links if s in sensors),
        wet_weather=saved.wet_weather,
        strong_wind=saved.strong_wind,
        about=saved.about,
    )
    if whole:
        return Restored(emptied, (("", bare),))
    back = []
    unnamed = [g for g in saved.members if saved.controller_of(g) is None]
    for controller in source.controllers:
        keeps = source.keeps[controller]
        held = bare.of_groups([*(g for g in saved.members if saved.controller_of(g) == controller), *unnamed])
        fields = {name: getattr(held, name) for name in ("links", "wet_weather", "strong_wind")}
        kept = {name: value if name in keeps else type(value)() for name, value in fields.items()}
        about = with_controller(held.about, controller, len(now.controllers))
        back.append((controller, Settings(members=held.members, about=about, **kept)))
    return Restored(emptied, tuple(back))


def _sensors(now: Site, then: Site) -> dict[str, str]:
    """Where sensors are by place: under their id, else by serial where they were given another name."""
    by_serial = {s.serial: key for key, s in now.sensors.items() if s.serial is not None and key not in then.sensors}
    found = {key: key if key in now.sensors else by_serial.get(s.serial or "") for key, s in then.sensors.items()}
    return {key: there for key, there in found.items() if there is not None}


def _homes(settings: Settings) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for group, held in settings.members.items():
        for actuator in held:
            found.setdefault(actuator, []).append(group)
    return {actuator: tuple(groups) for actuator, groups in found.items()}


def places(now: Site, then: Site) -> list[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Pair what stood at each place then with what stands there now; each actuator of now at most once."""
    taken: set[str] = set()
    pairs: list[tuple[tuple[str, ...], tuple[str, ...]]] = []
    loose: list[Actuator] = []
    for opening, actuators in then.actuators_of.items():
        if fitted := now.actuators_of.get(opening):
            pairs.append((tuple(actuators), tuple(fitted)))
            taken.update(fitted)
        else:
            loose += [then.actuators[a] for a in actuators]
    loose += [a for a in then.actuators.values() if a.opening is None]
    listed = {m for g in then.groups.values() for m in g.actuators or ()} - then.actuators.keys()
    by_serial = {a.serial: a.id for a in now.actuators.values() if a.serial is not None}
    moved: dict[tuple[str, str], tuple[list[str], list[str]]] = {}
    for actuator in loose:
        for here in (actuator.id, by_serial.get(actuator.serial or "")):
            if here is not None and here in now.actuators and here not in taken:
                taken.add(here)
                sash = now.actuators[here].opening
                ids = moved.setdefault(("opening", sash) if sash else ("actuator", here), ([], []))
                ids[0].append(actuator.id)
                ids[1].append(here)
                break
    for (kind, name), (old, new) in moved.items():
        whole = now.actuators_of[name] if kind == "opening" else new
        pairs.append((tuple(old), tuple(dict.fromkeys((*new, *(a for a in whole if a not in taken))))))
        taken.update(whole)
    return [*pairs, *(((m,), (m,)) for m in sorted(listed) if m in now.actuators and m not in taken)]


def _goals(
    now: Site,
    sources: Sequence[_Source],
    filled: Sequence[Restored],
    names: Sequence[Mapping[str, str]],
    present: Settings,
) -> dict[str, tuple[str, ...]]:
    """The groups each actuator goes to; none for one that a copy has in no group; what it does not know is left out."""
    here = _homes(present)
    found: dict[str, tuple[str, ...]] = {}
    for source, copy, called in zip(sources, filled, names, strict=True):
        if not source.controllers:
            continue
        given = {g for _, held in copy.back for g in held.members}
        homes = _homes(source.saved)
        for old, new in places(now, source.site):
            then = [tuple(called.get(g, g) for g in homes.get(a, ()) if g in given) for a in old]
            if len(set(then)) > 1:  # pulled apart in the copy itself
                if len({here.get(a, ()) for a in new}) == 1:
                    continue
                then = [min(filter(None, then))]
            for actuator in new:
                if then[0] or actuator not in found:
                    found[actuator] = then[0]
    return found


def _called(
    present: Settings, emptied: frozenset[str], fresh: frozenset[str], goals: Mapping[str, tuple[str, ...]]
) -> dict[str, str]:
    """Groups of now that a copy calls otherwise: those sharing most windows with one that now has no name for."""
    gone = [g for g in present.members if g in emptied and g not in fresh]
    new = fresh - present.members.keys()
    shared: dict[tuple[str, str], int] = {}
    for group in gone:
        for actuator in present.members[group]:
            for goal in goals.get(actuator, ()):
                if goal in new:
                    shared[group, goal] = shared.get((group, goal), 0) + 1
    found: dict[str, str] = {}
    for (group, goal), _ in sorted(shared.items(), key=lambda pair: (-pair[1], pair[0])):
        if group not in found and goal not in found.values():
            found[group] = goal
    return found
