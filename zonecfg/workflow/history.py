"""What became of a thing, fact by fact, through the commits of a repository; names of things and files are followed."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from zonecfg import schema
from zonecfg.compare.differences import differences
from zonecfg.compare.rename import Names
from zonecfg.document.reader import read
from zonecfg.errors import CannotRead, UnknownName
from zonecfg.model.build import build
from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.change import Change
from zonecfg.results.history import Commit, Event, History
from zonecfg.results.nearest import did_you_mean
from zonecfg.workflow.revisions import repository, versions


def history(path: Path, about: str | None = None, *, since: date | None = None, until: date | None = None) -> History:
    """Tell what became of a file, of a thing in it, or of a field.

    Parameters
    ----------
    path
        A site file or catalogue that git knows.
    about
        An id, with or without its section (``A-014``, ``actuators/A-014``), as it is called now or was at any time; or
        the name of a field. None for all.
    since, until
        Only commits of these days and between [date of the author].

    Returns
    -------
    History
        The latest commit first. A thing that was given another name is followed by its serial, as ``compare`` does.

    Raises
    ------
    CannotRead
        There is no such file in the repository's commits.
    GitRefuses
        There is no repository, or no git.
    UnknownName
        No such thing or field stands, or ever stood, in the file.
    """
    top = repository(path.parent)
    found = versions(top, path.resolve())
    if not found:
        raise CannotRead(f"{path.as_posix()}: no commit of the repository holds this file")
    states = [(commit, _site(raw, commit.file)) for commit, raw in found]
    steps = list(_steps(states))
    chosen, names = _about(about, steps, states)
    events = tuple(
        event
        for event in chosen
        if (since is None or event.commit.date[:10] >= since.isoformat())
        and (until is None or event.commit.date[:10] <= until.isoformat())
    )
    return History(file=path.as_posix(), about=about, names=names, commits=len(found), events=events)


_Step = tuple[Event, Names]


def _steps(states: Sequence[tuple[Commit, Site | str]]) -> Iterator[_Step]:
    """Compare every version with the one before it, the latest first; the first with nothing."""
    for number, (commit, after) in enumerate(states):
        earlier = next((site for _, site in states[number + 1 :] if isinstance(site, Site)), None)
        if isinstance(after, str):
            yield Event(commit=commit, because=after), {}
            continue
        changes, names = differences(earlier or build({}, {}), after)
        yield Event(commit=commit, changes=tuple(changes)), names


def _about(
    about: str | None, steps: Sequence[_Step], states: Sequence[tuple[Commit, Site | str]]
) -> tuple[list[Event], tuple[str, ...]]:
    """Keep what speaks of a thing under the name it had then, or of a field."""
    if about is None:
        return [event for event, _ in steps if event.changes or event.because], ()
    section, _, thing = about.strip("/").rpartition("/")
    sites = [site for _, site in states if isinstance(site, Site)]
    if not _stood(thing, section, sites):
        fields = {change.field for event, _ in steps for change in event.changes if change.field}
        if thing not in fields or section:
            ids = dict.fromkeys(key for site in sites[:1] for name in grammar().things for key in _things(site, name))
            raise UnknownName(
                f"{about} is nothing that stands or stood there{did_you_mean(thing, [*ids, *sorted(fields)])}"
            )
        return [_only(event, lambda change: change.field == thing) for event, _ in steps if _speaks(event, thing)], ()
    calls = _names(thing, [renamed for _, names in steps for renamed in names.values()])
    events = (_only(event, lambda change: _is_about(change, calls, section)) for event, _ in steps)
    return [event for event in events if event.changes], tuple(sorted(calls))


def _names(thing: str, renamings: Sequence[Mapping[str, str]]) -> frozenset[str]:
    """Give every name that a thing has had, whichever of them is asked for."""
    calls, found = {thing}, {thing}
    while found:
        pairs = [(old, new) for renamed in renamings for old, new in renamed.items()]
        found = {name for pair in pairs if not calls.isdisjoint(pair) for name in pair} - calls
        calls |= found
    return frozenset(calls)


def _speaks(event: Event, field: str) -> bool:
    return any(change.field == field for change in event.changes)


def _only(event: Event, keep: Any) -> Event:
    return Event(commit=event.commit, changes=tuple(filter(keep, event.changes)))


def _is_about(change: Change, calls: Iterable[str], section: str) -> bool:
    names = set(calls)
    if change.id in names and section in ("", change.section):
        return True
    values = {value for value in (change.before, change.after) if isinstance(value, str)}
    return change.kind in {"renamed", "linked", "unlinked", "moved"} and bool(names & values)


def _stood(thing: str, section: str, sites: Iterable[Site]) -> bool:
    wanted = [section] if section else list(grammar().things)
    return any(thing in _things(site, name) for site in sites for name in wanted)


def _things(site: Site, section: str) -> Mapping[str, Any]:
    held = site.own.get(section)
    return held if isinstance(held, Mapping) else {}


def _site(raw: bytes, file: str) -> Site | str:
    """Read a version as far as it says anything by itself; its catalogues are files of their own, with a history."""
    document = read(raw, file, grammar().as_written)
    fault = next((fault for fault in document.faults if fault.severity == "error"), None)
    if fault is not None or not isinstance(document.data, dict):
        return f"could not be read: {fault.message if fault is not None else 'it is no plan'}"
    data = schema.pruned(document.data, schema.faults(document.data, "site", may_hold_own_keys=False))
    types = data.get("types")
    return build(data, types if isinstance(types, dict) else {})
