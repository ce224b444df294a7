"""How far commissioning is: what is recorded and tested of what there is to record and test."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from zonecfg.figures import Figures
from zonecfg.results.review import Progress


def progress(figures: Figures) -> tuple[Progress, ...]:
    """Count what the record of a site shows as done, kind of work by kind of work.

    Parameters
    ----------
    figures
        Of an as-commissioned site.

    Returns
    -------
    tuple of Progress
        Only of what there is something of to do. A record that was made of another actuator than the one fitted now
        shows nothing of it.
    """
    return tuple(entry for entry in _all(figures) if entry.of)


def _all(figures: Figures) -> Iterator[Progress]:
    site = figures.site
    fitted = site.actuators
    of_these = {
        key: record
        for key, record in site.record.actuators.items()
        if key in fitted and record.serial in {None, fitted[key].serial}
    }
    yield _counted("serials written down", fitted, (a.id for a in fitted.values() if a.serial is not None))
    yield _counted("actuators calibrated", fitted, (a for a, r in of_these.items() if r.calibrated))
    walked = {a: r.walk_test for a, r in of_these.items()}
    yield _tested("windows walked", fitted, walked)
    groups = {g: r.walk_test for g, r in site.record.groups.items()}
    yield _tested("groups walked", site.groups, groups)
    wetted = {s: r.wet_test for s, r in site.record.sensors.items()}
    yield _tested("rain sensors wetted", [s.id for s in site.sensors.values() if s.measures == "rain"], wetted)
    counts = [c for c, r in site.record.controllers.items() if r.actuators_counted is not None]
    yield _counted("controllers counted through", site.controllers, counts)
    commands = figures.topology.controller_of_group
    with_vents = {
        commands.get(group)
        for group, openings in site.openings_of_group.items()
        if any(site.openings[opening].smoke_vent for opening in openings)
    }
    fire = {c: r.fire_test for c, r in site.record.controllers.items()}
    yield _tested("fire commands tested", [c for c in site.controllers if c in with_vents], fire)


def _counted(what: str, things: Collection[str], done: Iterable[str]) -> Progress:
    ready = {thing for thing in done if thing in things}
    return Progress(what=what, of=len(things), done=len(ready), open=tuple(t for t in things if t not in ready))


def _tested(what: str, things: Collection[str], results: Mapping[str, str | None]) -> Progress:
    passed = {thing for thing in things if results.get(thing) == "pass"}
    failed = tuple(thing for thing in things if results.get(thing) == "fail")
    return Progress(
        what=what,
        of=len(things),
        done=len(passed),
        failed=failed,
        open=tuple(thing for thing in things if thing not in passed and thing not in failed),
    )
